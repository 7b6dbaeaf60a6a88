// Each of the three users from an empty folder to the end.
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { answer, answers, check, emptyFolder, houseText, json, same, saysFinding, scratch, serve, serveIn, test, visit } from "./lib.mjs";

const last = (page) => page.locator(".changes li").first().innerText();

async function fill(page, form, fields) {
  for (const [name, value] of Object.entries(fields)) {
    const field = form.locator(`[name="${name}"]`);
    if (await field.evaluate((one) => one.tagName) === "SELECT") { await field.selectOption(value); } else { await field.fill(value); }
  }
  await form.locator("button").last().click();
  await page.waitForLoadState();
}

// The page of `serve` in a folder without a house, at the first question of a house: one press from where it opens.
async function begin(folder, options = {}) {
  same(readdirSync(folder), [], "an empty folder");
  const site = await serveIn(folder);
  const page = await visit(site, options);
  await page.getByRole("link", { name: "Begin a house" }).click();
  same(new URL(page.url()).pathname, "/first/house", "the first question");
  return { site, page };
}

// One thing after the other, each field as it would be typed; `null` takes what is proposed.
async function lines(page, rows) {
  for (const row of rows) { await answers(page, ...row); }
}

// Three fields and one press; gives the answer's sentence.
async function ask(page, base, what, room, when) {
  await page.goto(base + "/");
  same(await page.locator('.ask-box input:not([type="hidden"]), .ask-box select').count(), 3, "three fields");
  await page.locator('.ask-box [name="what"]').fill(what);
  await page.locator('.ask-box [name="room"]').selectOption({ label: room });
  await page.locator('.ask-box [name="use"]').fill(when);
  await page.locator(".ask-box button").click();
  await page.waitForLoadState();
  return page.locator(".said[role=status]").innerText();
}

async function tonight() {
  await test(`a homeowner, from an empty folder: the pencilled door, the rooms, and "a space heater tonight?" is answered in a sentence`, async () => {
    const folder = emptyFolder("tonight");
    const { site, page } = await begin(folder);
    await answers(page, "12 Elm Row", "us", "200 amps", "1400 sq ft", "");
    await lines(page, [["Bedrm 1 + hall", "20", "1"], ["KITCHEN plugs, L of sink", "20 amps", "3"], ["Range", "50A 2 pole", "5"],
      ["A/C outside", "30 double", null], ["Lites upstairs??", "15 A", "2"], ["kids rm - outlets", "20A", null]]);
    await page.getByRole("link", { name: "No more lines" }).click();
    await lines(page, [["Bedroom"], ["Kids room"], ["Office"]]);
    await page.getByRole("link", { name: "No more rooms" }).click();
    await lines(page, [["TV", "bedroom", "branch:bedrm-1-hall", "85 watts", "7-10pm", ""], ["hair dryer", "bedroom", null, "1875 W", "6:30am-7am", "10 minutes"],
      ["night light", "kids-room", "branch:kids-rm-outlets", "4 watts", "at night", ""]]);
    await answers(page, "desk lamp", "office", "branch:lites-upstairs");
    await answers(page, "", "evenings", "");
    const stored = await page.locator(".stored").innerText();
    check(stored.includes("60 W (a typical figure), used 18:00-22:00"), stored);
    await page.getByRole("link", { name: "Nothing more" }).click();
    await answers(page, "16.3 cents");
    const house = houseText(join(folder, "house.db"));
    for (const line of ["label = KITCHEN plugs, L of sink", "position = 5,7", "position = 9,11", "position = 4", "use = 19:00-22:00", "use = 22:00-06:00", "price = 0.163"]) { check(house.includes(line), `${line} in ${house}`); }
    // By hand, at 120 V: heater 1500 W = 12.5 A, hair dryer 15.6 A, television 0.7 A, night light 0.03 A. Kids' room: 12.5 A of 20 A.
    // Bedroom: 28.8 A of 20 A with the hair dryer, 13.2 A without. Office: 12.5 A is more than 80 % of 15 A, the most of one plug.
    const rest = "space heater, used 18:00-24:00";
    const typical = "Counted with 1500 W, a typical figure: its nameplate decides.";
    same(await ask(page, site.base, "space heater", "Kids room", "tonight"), `Yes: kids rm - outlets has room for ${rest} beside all that may be on. ${typical}`, "yes");
    same(await ask(page, site.base, "space heater", "Bedroom", "tonight"), `Yes, if hair dryer stays off while it runs: then Bedrm 1 + hall takes ${rest}. ${typical}`, "yes, if");
    same(await ask(page, site.base, "space heater", "Office", "tonight"),
      `No, not in Office. Try KITCHEN plugs, L of sink: it has room for ${rest}. That is to use it there, never over an extension cord. ${typical}`, "no, try");
    same(await ask(page, site.base, "a 1500W space heater", "Kids room", "tonight"), "Yes: kids rm - outlets has room for a 1500W space heater, used 18:00-24:00 beside all that may be on.", "its watts");
    const place = json("place", join(folder, "house.db"), "space heater, use=18:00-24:00", "--room=bedroom");
    same(place.places.map((one) => [one.branch, one.class, one.off]), [["bedrm-1-hall", "only-if", ["hair-dryer"]]], "the command");
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

async function homeowner(javaScriptEnabled) {
  const how = javaScriptEnabled ? "" : ", without a script";
  const folder = emptyFolder("first");
  const path = join(folder, "house.db");
  await test(`a homeowner makes a first house from nothing, one question a page, and check agrees${how}`, async () => {
    const { site, page } = await begin(folder, { javaScriptEnabled });
    const main = () => page.locator("main").innerText();
    const taken = (label) => page.locator(".taken div", { hasText: label }).locator("dd").innerText();
    const refused = async (value, reason) => {
      await answer(page, value);
      check((await page.title()).startsWith("Error: "), await page.title());
      check((await page.locator('[role="alert"]').innerText()).includes(reason), await page.locator('[role="alert"]').innerText());
      check(await page.evaluate(() => document.activeElement.getAttribute("role") === "alert"), "the fault has the focus");
      const field = page.locator("form.one [aria-invalid]");
      same(`#${await field.getAttribute("id")}`, await page.locator('[role="alert"] a').getAttribute("href"), "the link leads to the field");
      check((await page.locator(`[id="${await field.getAttribute("aria-describedby")}"]`).innerText()).length > 10, "what is wrong stands at the field");
      same(await field.inputValue(), value, "what was typed stays");
    };
    const fields = async () => same(await page.locator("main form input:not([type=hidden]), main form select").count(), 1, "one field");
    await fields();
    await answers(page, "Our house", "us");
    await refused("lots", "Main breaker or supply fuse: lots");
    check(!existsSync(path), "nothing stored yet");
    await answers(page, "100 amps");
    check((await taken("Main breaker")).startsWith("100 A"), "said what was taken");
    await answers(page, "168 sq ft", "usd");
    check((await page.locator(".stored").innerText()).startsWith("Stored: Our house, us: United States, 100 A, 168 ft2, USD."), await main());
    await answers(page, "Kitchen outlets", "20", "1");
    await answers(page, "Bedroom outlets", "15 amp");
    await fields();
    await refused("1", "space 1 of panel main is taken");
    await answers(page, "2");
    check((await page.locator(".stored").innerText()).startsWith("Stored: Bedroom outlets, 15 A, space 2."), await main());
    await answers(page, "Range", "50", "3 and 5");
    await answer(page, "Half a li");
    await page.getByRole("link", { name: "Back" }).click(); // goes back with what was typed
    same(await page.locator("form.one input:not([type=hidden])").inputValue(), "Half a li", "the answer before");
    await site.stop();
    const again = await serveIn(folder);
    await page.goto(again.enter);
    await page.goto(again.base + "/build");
    check((await main()).includes("3 branches"), "goes on where it was left");
    await page.goto(again.base + "/first/room");
    await answers(page, "Kitchen", "Bedroom");
    await page.getByRole("link", { name: "No more rooms" }).click();
    // By hand: 1500 W / 120 V = 12.5 A; the heater, 12.5 A, and the dryer, 10 A, on 15 A are over together.
    await answers(page, "Kettle", "kitchen", "branch:kitchen-outlets", "1500 watts", "7:00-7:05, 5pm to 5:05pm", "10 minutes");
    check((await page.locator(".stored").innerText()).startsWith("Stored: Kettle, in Kitchen, on Kitchen outlets, 1500 W, used 07:00-07:05, 17:00-17:05, on for about 10 min."), await main());
    await answers(page, "Heater", "bedroom", "branch:bedroom-outlets", "12.5 amps");
    await refused("sometimes", "sometimes");
    await answers(page, "6am-7am", "");
    await answers(page, "Hair dryer", "bedroom", null, "1200 W", "6:30-6:40", "");
    await answers(page, "Lamp", "bedroom", null, "60", "evening", "2 hours");
    await page.getByRole("link", { name: "Nothing more" }).click();
    await refused("16 dogs", "16 dogs");
    await answers(page, "$0.16");
    same(new URL(page.url()).pathname, "/", "the house is shown");
    const house = houseText(path);
    for (const line of ["main_breaker = 100 A", "floor_area = 168 ft2", "currency = USD", "position = 3,5", "poles = 2", "use = 18:00-22:00", "price = 0.16"]) { check(house.includes(line), `${line} in ${house}`); }
    const result = json("check", path);
    same(result.branches.map((branch) => [branch.id, branch.status]), [["kitchen-outlets", "ok"], ["bedroom-outlets", "over"], ["range", "empty"]], "check");
    check((await page.locator('[data-branch="bedroom-outlets"]').innerText()).includes("OVER"), "and so does the page");
    await page.goto(again.base + "/build/appliances?room=bedroom");
    await page.locator('form[action="/build/undo"] button').click();
    await page.goto(again.base + "/build/tariff");
    await fill(page, page.locator('form[action="/build/add"]:has(input[name="kind"][value="tariff"])'), { name: "Flat", price: "16 cents" });
    check(houseText(path).includes("price = 0.16"), "16 cents are 0.16");
    same(page.faults.filter((line) => !line.includes("422")), [], "faults");
    await page.context().close();
    await again.stop();
  });
  await test(`a homeowner asks for a place, tries, keeps and undoes${how}`, async () => {
    const site = await serve(path);
    const page = await visit(site, { javaScriptEnabled });
    await page.goto(site.base + "/appliance");
    await page.locator('[name="what"]').fill("Toaster");
    await page.locator('[name="rating"]').fill("800");
    await page.locator('[name="room"]').selectOption("kitchen");
    await page.locator("main form button").click();
    const places = await page.locator(".places > li").allInnerTexts();
    check(places.length === 1 && places[0].includes("Kitchen outlets") && places[0].includes("has room for it"), places.join("\n"));
    await page.locator(".places a").first().click();
    const want = json("try", path, "--add=Toaster, 800 W", "--branch=kitchen-outlets");
    const then = want.branches[0].after;
    const text = await page.locator("main").innerText();
    check(text.includes(`${then.all.planning_a.toFixed(1)} A with everything on`), text);
    const before = houseText(path);
    await page.locator('form[action="/appliance/keep"] button').click();
    check((await last(page)).includes("new appliance Toaster"), "it is in the changes");
    check(houseText(path).includes("name = Toaster"), "and in the house");
    await page.locator('form[action="/undo"] button').click();
    same(houseText(path), before, "undone");
    await page.locator('form[action="/redo"] button').click();
    check(houseText(path).includes("name = Toaster"), "and done again");
    await page.context().close();
    await site.stop();
  });
}

// A form of the guide with all its fields, by their names in the house file.
async function send(page, action, kind, fields) {
  const form = page.locator(`form[action="${action}"]:has(input[name="kind"][value="${kind}"])`);
  for (const folded of await form.locator("details").all()) { await folded.evaluate((one) => { one.open = true; }); }
  await fill(page, form, fields);
  same(await page.locator('[role="alert"]').allInnerTexts(), [], `${kind}: refused`);
}

async function instructor() {
  await test("an instructor, from an empty folder: builds a bench, lets the class predict, uncovers, opens a load, prints sheets", async () => {
    const folder = emptyFolder("class");
    const path = join(folder, "house.db");
    const { site, page } = await begin(folder, { viewport: { width: 1920, height: 1080 } });
    await answers(page, "Class 8b", "us", "60 amps", "", "");
    await page.goto(site.base + "/build/house");
    await send(page, "/build/set", "house", { system: "single-phase" });
    await page.goto(site.base + "/first/branch");
    await answers(page, "Bench outlets", "15 amp", null);
    await page.getByRole("link", { name: "No more lines" }).click();
    await answers(page, "Classroom");
    await page.getByRole("link", { name: "No more rooms" }).click();
    await answers(page, "Lamp", "classroom", "branch:bench-outlets", "60 watts", "", "");
    await answers(page, "Kettle", null, null, "1.2 kilowatts", "", "");
    await answers(page, "Heater", null, null, "600", "", "");
    await page.goto(site.base + "/class");
    await page.locator('a[href="/class/bench-outlets"]').click();
    // By hand, I = P / V at 120 V: 60 / 120 = 0.50 A, 1200 / 120 = 10.00 A, 600 / 120 = 5.00 A; together 15.50 A.
    const hand = [["lamp", "0.50 A"], ["kettle", "10.00 A"], ["heater", "5.00 A"]];
    const source = await page.content();
    for (const figure of ["0.50", "10.00", "5.00", "15.50", "OVER"]) { check(!source.includes(figure), `${figure} is told before the class has predicted`); }
    check((await page.locator(".ask").innerText()).startsWith("Predict first."), "the class predicts");
    await page.locator("#next").click();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length === 1);
    await page.locator("#next").click();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length === 2);
    check((await page.locator(".steps li").last().innerText()).includes("60 W / 120 V = 0.5 A"), "the second step");
    await page.locator("#every").click();
    await page.waitForFunction(() => !document.querySelector("#every"));
    const cells = (column) => page.locator(`table tbody tr td:nth-of-type(${column})`).allInnerTexts();
    same(await cells(2), hand.map(([, figure]) => figure), "currents");
    same(await cells(3), ["15.50 A", "15.00 A", "5.00 A"], "in the line to each junction: 0.5 + 10 + 5, 10 + 5, 5");
    check((await page.locator("tfoot").innerText()).includes("15.50 A") && (await page.locator("tfoot").innerText()).includes("OVER"), "15.5 A over 15 A");
    const branch = json("branch", path, "bench-outlets");
    same(branch.loads.map((load) => [load.id, `${load.current_a.toFixed(2)} A`]), hand, "the command");
    same([branch.all.current_a, branch.status], [15.5, "over"], "the command's sum");
    await page.locator("#hide").click();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length === 0);
    await page.locator("#on-kettle").uncheck();
    await page.waitForFunction(() => document.querySelector(".ask").innerText.includes("Opened: Kettle"));
    check((await cells(2)).every((one) => one === "covered"), "covered again");
    await page.locator("#figures").click();
    await page.waitForFunction(() => !document.querySelector("#figures"));
    same(await cells(2), ["0.50 A", "0.00 A", "5.00 A"], "the others do not change");
    const said = await page.locator(".ask").last().innerText();
    check(said.includes("Together 15.50 A with all closed, 5.50 A now. 2 of the 3 loads"), said); // By hand: 0.5 + 5
    same(json("check", path, "--on=lamp,heater").branches[0].scene.current_a, 5.5, "the command");
    await page.goto(site.base + "/files");
    const sheets = page.locator('button[formaction="/files/worksheets.pdf"]');
    const [download] = await Promise.all([page.waitForEvent("download"), sheets.click()]);
    check(readFileSync(await download.path()).subarray(0, 5).toString() === "%PDF-", "worksheets");
    same(page.faults, [], "faults");
    await page.context().close();
    same(await site.stop(), 0, "stopped");
    same(json("branch", path, "bench-outlets").all.current_a, 15.5, "all of it is in the file");
  });
}

// The page with all that is folded.
async function unfolded(page) {
  for (const one of await page.locator("main details").all()) { await one.evaluate((details) => { details.open = true; }); }
  return page.locator("main").innerText();
}

async function electrician() {
  await test("an electrician, from an empty folder: a branch with its wire, current, headroom, end voltage, findings, a trial, report", async () => {
    const folder = emptyFolder("visit");
    const path = join(folder, "house.db");
    const { site, page } = await begin(folder);
    await page.getByRole("link", { name: "All fields on one page" }).click();
    await send(page, "/build/house", "house", { name: "Harbour Row 3", rules: "us", main_breaker: "100 amps", currency: "usd" });
    await send(page, "/build/add", "branch", { label: "Study outlets", breaker: "15 amp", legs: "A", wire: "14 AWG copper" });
    await page.goto(site.base + "/build/rooms");
    await send(page, "/build/add", "room", { name: "Study", area: "168 sq ft" });
    await page.goto(site.base + "/build/outlets/study-outlets");
    await send(page, "/build/add", "outlet", { name: "desk", run: "60 feet", room: "study" });
    await page.goto(site.base + "/build/appliances?room=study");
    await send(page, "/build/add", "appliance", { name: "Heater", rating: "1500 watts", at: "outlet:desk", use: "6pm-8:30pm" });
    const house = houseText(path);
    for (const line of ["main_breaker = 100 A", "currency = USD", "breaker = 15 A", "area = 168 ft2", "run = 60 ft", "use = 18:00-20:30"]) { check(house.includes(line), line); }
    await page.goto(site.base + "/branch/study-outlets");
    const want = json("branch", path, "study-outlets");
    // By hand: 1500 W / 120 V = 12.5 A; 15 A - 12.5 A = 2.5 A. Wire: NEC Chapter 9 Table 8, 14 AWG solid 3.07 ohm per 1000 ft at 75 C,
    // out and back 120 ft = 0.3684 ohm; the heater is (120 V)^2 / 1500 W = 9.6 ohm; 120 V x 9.6 / (9.6 + 0.3684) = 115.565 V.
    same([want.all.current_a, want.all.headroom_a], [12.5, 2.5], "current and headroom");
    const end_v = 120 * 9.6 / (9.6 + 0.12 * 3.07);
    const wire = json("wire", path, "study-outlets").branches[0].outlets[0];
    check(Math.abs(wire.voltage_v - end_v) < 0.001, `${wire.voltage_v} V, by hand ${end_v} V`);
    const text = await unfolded(page);
    for (const part of ["12.50", "2.5", "115.57"]) { check(text.includes(part), `${part} in ${text}`); }
    check(want.findings.length > 0, "there is a finding: the drop is over 3 %");
    for (const finding of want.findings) { saysFinding(text, finding); }
    // A hair dryer beside it: 1200 W / 120 V = 10 A more, 22.5 A on 15 A.
    await page.goto(site.base + "/appliance");
    await page.locator('[name="what"]').fill("Hair dryer");
    await page.locator('[name="rating"]').fill("1200");
    await page.locator('[name="use"]').fill("19:00-19:10");
    await page.locator('[name="room"]').selectOption("study");
    await page.locator("main form button").click();
    const place = await page.locator(".places > li").first().innerText();
    check(place.includes("takes it only if others stay off") && place.includes("Keep off while it runs: Heater") && place.includes("22.5 A of 15 A") && place.includes("7.5 A over the breaker"), place);
    await page.locator(".places > li a").first().click();
    const trial = await page.locator("main").innerText();
    const then = json("try", path, "--add=Hair dryer, 1200 W, use=19:00-19:10", "--outlet=desk");
    same(then.branches[0].after.all.planning_a, 22.5, "the command");
    check(trial.includes("22.5 A at the busiest minute and 22.5 A with everything on") && trial.includes("Over after it: Study outlets."), trial);
    const before = houseText(path);
    await page.locator("main form a", { hasText: "Discard" }).click();
    same(houseText(path), before, "discarded");
    await page.goto(site.base + "/files");
    const take = async (link) => {
      const [download] = await Promise.all([page.waitForEvent("download"), page.locator(`a[href="${link}"]`).click()]);
      return readFileSync(await download.path(), "utf8");
    };
    const taken = await take("/files/house.ini");
    same(taken, before, "the house file");
    const copy = join(scratch, "taken.ini");
    writeFileSync(copy, taken);
    same(json("branch", copy, "study-outlets"), want, "it says the same");
    const report = await take("/files/report.html");
    check(report.includes("Harbour Row 3") && report.includes("115.57") && !report.includes("<script"), "the report");
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

async function apprentice() {
  await test("an apprentice, from an empty folder: one question a page, then the number of a branch, its working and its wire", async () => {
    const folder = emptyFolder("job");
    const { site, page } = await begin(folder);
    await answers(page, "Job 14, Mill Road", "us", "100A", "", "");
    await answers(page, "Garage bench", "15", null);
    await page.getByRole("link", { name: "No more lines" }).click();
    await answers(page, "Garage");
    await page.getByRole("link", { name: "No more rooms" }).click();
    await answers(page, "Radiator", "garage", null, "1200 watts", "", "");
    await answers(page, "Soldering iron", "garage", null, "60 W", "8am-9am", "");
    await page.goto(site.base + "/");
    await page.locator('[data-branch="garage-bench"] a').first().click();
    same(new URL(page.url()).pathname, "/branch/garage-bench", "the branch");
    // By hand at 120 V: 1200 / 120 = 10 A, 60 / 120 = 0.5 A, together 10.5 A; 15 A - 10.5 A = 4.5 A.
    same(await page.locator("p.answer").innerText(), "room With everything on 10.5 A, 4.5 A left on its breaker of 15 A; at the busiest minute 10.5 A.", "the sentence");
    const text = await unfolded(page);
    for (const step of ["Radiator: I = P / V = 1200 W / 120 V = 10 A", "All together: I = I1 + I2 + … = 10 A + 0.5 A = 10.5 A",
      "Breaker: headroom = breaker − planning current = 15 A − 10.5 A = 4.5 A"]) { check(text.includes(step), `${step} in ${text}`); }
    await page.getByRole("link", { name: "Say which cable feeds it" }).click();
    const form = page.locator("form.guide:has([name=wire])");
    await form.locator("details").first().evaluate((one) => { one.open = true; });
    await form.locator('[name="wire"]').fill("14 AWG copper");
    await form.locator('[name="length"]').fill("50 feet");
    await form.getByRole("button", { name: "Store the correction" }).click();
    await page.waitForLoadState();
    same(await page.locator('[role="alert"]').allInnerTexts(), [], "stored");
    await page.goto(site.base + "/branch/garage-bench");
    // NEC Chapter 9 Table 8, 14 AWG solid: 3.07 ohm per 1000 ft at 75 C; out and back 0.307 ohm. Both at the end of the cable:
    // 120^2 / 1260 = 11.4286 ohm; 120 V x 11.4286 / (11.4286 + 0.307) = 116.861 V.
    const hand_v = 120 * 11.428571 / (11.428571 + 0.307);
    const wire = json("wire", join(folder, "house.db"), "garage-bench").branches[0].outlets[0];
    check(Math.abs(wire.voltage_v - hand_v) < 0.001, `${wire.voltage_v} V, by hand ${hand_v} V`);
    check((await unfolded(page)).includes(hand_v.toFixed(2)), "and the page");
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

export async function stories() {
  await tonight();
  await homeowner(true);
  await homeowner(false);
  await instructor();
  await electrician();
  await apprentice();
}
