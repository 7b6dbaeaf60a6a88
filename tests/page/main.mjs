// All tests of the page in one run, one browser.
import { done, startBrowser, test } from "./lib.mjs";
import { appliance } from "./appliance.mjs";
import { classView } from "./class.mjs";
import { editors } from "./editors.mjs";
import { firstHouse } from "./first_house.mjs";
import { day } from "./day.mjs";
import { guard } from "./guard.mjs";
import { house } from "./house.mjs";
import { languages } from "./languages.mjs";
import { live } from "./live.mjs";
import { open } from "./open.mjs";
import { paper } from "./paper.mjs";
import { questions } from "./questions.mjs";
import { stories } from "./stories.mjs";
import { views } from "./views.mjs";

let started = true;
await test("chromium starts", async () => {
  try { await startBrowser(); } catch (fault) { started = false; throw fault; }
});
if (started) {
  await guard();
  await house();
  await views();
  await appliance();
  await classView();
  await editors();
  await languages();
  await live();
  await open();
  await day();
  await questions();
  await paper();
  await stories();
  await firstHouse();
}
await done();
