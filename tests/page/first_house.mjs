// A first house from nothing: every step and every kind of line, bad input, undo, corrections, resuming, removing.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { ampsum, check, houseText, database, json, post, raw, same, scratch, secrets, serve, test, visit } from "./lib.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const form = (page, action, kind) => page.locator(`form[action="${action}"]:has(input[name="kind"][value="${kind}"])`);
const main = (page) => page.locator("main").innerText();

async function type(page, where, fields) {
  for (const details of await where.locator("details").all()) { await details.evaluate((one) => { one.open = true; }); }
  for (const [name, value] of Object.entries(fields)) {
    const field = where.locator(`[name="${name}"]:not([type="hidden"])`);
    const kind = await field.first().evaluate((one) => one.type || one.tagName);
    if (kind === "select-one") {
      await field.selectOption(value);
    } else if (kind === "checkbox") {
      for (const box of await field.all()) { await box.setChecked(value.includes(await box.getAttribute("value"))); }
    } else {
      await field.fill(value);
    }
  }
}

async function send(page, where, fields) {
  await type(page, where, fields);
  await where.locator("button").last().click();
  await page.waitForLoadState();
}

// Does a thing, undoes it, does it again: the house is as before, and then as it was after the first time.
async function undoable(page, path, what, act) {
  const before = houseText(path);
  await act();
  const after = houseText(path);
  check(after !== before, `${what}: nothing was stored: ${(await main(page)).slice(0, 600)}`);
  await page.locator('form[action="/build/undo"] button').click();
  await page.waitForLoadState();
  same(houseText(path), before, `${what}, undone`);
  await act();
  same(houseText(path), after, `${what}, done again`);
}

// A value that can't be stored: it is named, nothing is changed, and all that was typed is still there.
async function refused(page, path, where, fields, word) {
  const before = houseText(path);
  await send(page, where(), fields);
  const alert = await page.locator('[role="alert"]').innerText();
  check(alert.includes(word), `${word} in ${alert}`);
  check((await page.title()).startsWith("Error: "), await page.title());
  check(!/(\S{2,}): \1 /.test(alert), `said once: ${alert}`);
  for (const link of await page.locator('[role="alert"] li a').all()) {
    const field = page.locator(`[id="${(await link.getAttribute("href")).slice(1)}"]`);
    if (await field.evaluate((one) => one.tagName) === "FIELDSET") { check((await field.locator(".wrong").innerText()).length > 10, "beside the list"); continue; }
    same(await field.getAttribute("aria-invalid"), "true", "the link leads to the field");
    const said = page.locator(`[id="${await field.getAttribute("aria-describedby")}"]`);
    check((await said.innerText()).length > 10, "what is wrong stands beside it");
  }
  same(houseText(path), before, "the house");
  for (const [name, value] of Object.entries(fields)) {
    const field = where().locator(`[name="${name}"]:not([type="hidden"])`);
    const kind = await field.first().getAttribute("type");
    if (kind === "checkbox") {
      const ticked = [];
      for (const box of await field.all()) { if (await box.isChecked()) { ticked.push(await box.getAttribute("value")); } }
      same(ticked, value, `${name} as ticked`);
    } else {
      same(await field.inputValue(), value, `${name} as typed`);
    }
  }
}

// The house that the story below types in, written by hand from the contract.
const typed = (coffee) => `[house]
name = Our house
rules = us
main_breaker = 100 A
floor_area = 1200 ft2
currency = CAD

[panel garage]
name = Garage
breaker = 40 A
poles = 2
legs = AB
wire = 8 AWG copper
length = 60 ft

[room kitchen]
name = Kitchen
floor = ground

[room bedroom]
name = Bedroom
floor = upper
area = 140 ft2

[branch kitchen-outlets]
label = Kitchen outlets
position = 1
breaker = 20 A
legs = A
wire = 12 AWG copper
serves = kitchen
purpose = small-appliance
protection = gfci, afci

[branch range]
label = Range
position = 2,4
breaker = 50 A
poles = 2
legs = AB

[branch bedroom-outlets]
label = Bedroom outlets
position = 5
breaker = 15 A
legs = A

[branch hall-lights]
label = Hall lights
position = 6
breaker = 15 A
legs = A
purpose = lighting

[branch garage-bench]
label = Garage bench
panel = garage
position = 1
breaker = 20 A
legs = B

[outlet left-of-the-sink]
branch = kitchen-outlets
room = kitchen
name = left of the sink
run = 22 ft

[outlet right-of-the-sink]
branch = kitchen-outlets
room = kitchen
name = right of the sink
from = left-of-the-sink
run = 6.5 ft
rating = 20 A

[appliance kettle]
name = Kettle
outlet = left-of-the-sink
power = 1400 W
use = 07:00-07:05, 17:00-17:05
category = cooking
rating_from = plate

[appliance coffee-maker]
name = Coffee maker
branch = kitchen-outlets
room = kitchen
power = ${coffee} W
typical_hours = 1 h
category = cooking

[appliance heater-by-the-bed]
name = Heater, by the bed
branch = bedroom-outlets
room = bedroom
current = 12.5 A
use = 06:00-07:00
days = weekdays
months = nov-mar
category = space-heating
rating_from = plate

[appliance lamp]
name = Lamp
branch = bedroom-outlets
room = bedroom
power = 9 W
count = 3
typical_hours = 8 h
category = lighting
rating_from = plate

[appliance hair-dryer]
name = Hair dryer
branch = bedroom-outlets
room = bedroom
power = 1200 W
use = 06:30-06:40
typical_hours = 0.08 h
rating_from = plate

[appliance grinder]
name = Grinder
branch = garage-bench
horsepower = 1/2 hp
rating_from = plate

[scene breakfast]
name = Breakfast
on = kettle, coffee-maker, lamp*2

[tariff flat]
name = Flat
price = 0.15
standing = 0.4
tax = 6 %

[period 21-00-07-00]
tariff = flat
price = 0.09
hours = 21:00-07:00
days = weekdays
`;

export async function story(javaScriptEnabled) {
  const how = javaScriptEnabled ? "" : ", without a script";
  const path = join(scratch, javaScriptEnabled ? "guide.db" : "guide-plain.db");
  let site = await serve(path);
  let page = await visit(site, { javaScriptEnabled });
  const go = (where) => page.goto(site.base + where);

  await test(`the first step: supply and rules${how}`, async () => {
    await page.getByRole("link", { name: "All fields on one page" }).click();
    await page.waitForURL(/build\/house/);
    const first = () => form(page, "/build/house", "house");
    same(await page.evaluate(() => document.activeElement.id), "house-name", "focus");
    await send(page, first(), { name: "Our house", rules: "us", main_breaker: "lots", currency: "CAD", system: "split-phase" });
    check((await page.locator('[role="alert"]').innerText()).includes("Main breaker or supply fuse: lots"), "a wrong value is named");
    same(await page.locator("[aria-invalid]").getAttribute("name"), "main_breaker", "and marked");
    same(await first().locator('[name="name"]').inputValue(), "Our house", "what was typed stays");
    same(await first().locator('[name="system"]').inputValue(), "split-phase", "what was chosen stays");
    check(!existsSync(path), "nothing stored yet");
    await send(page, first(), { main_breaker: "100 A", system: "" });
    same(new URL(page.url()).pathname, "/build/panel", "goes on with the panel's door");
    await go("/build/house");
    const correct = () => form(page, "/build/set", "house");
    same(await correct().locator('[name="currency"]').inputValue(), "CAD", "as stored");
    await refused(page, path, correct, { voltage: "many", currency: "CAD", floor_area: "1200" }, "Voltage to neutral");
    await undoable(page, path, "the supply", async () => {
      await go("/build/house");
      await send(page, correct(), { voltage: "127 V", system: "three-phase", floor_area: "1200" });
    });
    await send(page, correct(), { voltage: "", system: "" });
    check(!houseText(path).includes("voltage"), "a value taken out is as usual again");
  });

  await test(`the panel's door, line by line${how}`, async () => {
    await go("/build/panel");
    const line = () => form(page, "/build/add", "branch");
    same(await page.evaluate(() => document.activeElement.id), "branch-label", "focus");
    same(await line().locator('[name="position"]').inputValue(), "1", "the first space");
    await page.keyboard.type("Kitchen outlets");
    await page.keyboard.press("Tab");
    await page.keyboard.type("20");
    await page.keyboard.press("Enter");
    await page.waitForURL(/added=branch/);
    same(await page.locator('[role="status"]').innerText(), "Added: Kitchen outlets.", "said");
    same(await page.evaluate(() => document.activeElement.id), "branch-label", "focus again");
    same(await line().locator('[name="position"]').inputValue(), "2", "the next space");
    await undoable(page, path, "a line", () => send(page, line(), { label: "Range", breaker: "50", poles: "2", position: "2,4" }));
    check((await main(page)).includes("Spaces still free: 3, 5 and up"), await main(page));
    await refused(page, path, line, { label: "Bedroom outlets", breaker: "15", position: "4" }, "Space in the panel");
    await refused(page, path, line, { label: "Bedroom outlets", breaker: "plenty", position: "5", purpose: "bathroom" }, "Breaker");
    await send(page, line(), { breaker: "15", purpose: "" });
    await page.locator('a[href$="lines=6"]').click();
    await page.waitForURL(/lines=6/);
    await undoable(page, path, "several lines", async () => {
      await go("/build/panel?lines=6");
      await send(page, line(), { "1.label": "Hall lights", "1.breaker": "15", "1.purpose": "lighting", "1.position": "6",
        "3.label": "Not to stay", "3.breaker": "15", "3.position": "8" });
    });
    check(page.url().includes("lines=6"), "six lines again");
    await refused(page, path, line, { "1.label": "Twice", "1.breaker": "15", "1.position": "9", "2.label": "Twice", "2.breaker": "15", "2.position": "9" }, "Space in the panel");
    same(await page.locator('[role="alert"] li a').getAttribute("href"), "#2.branch-position", "the very line of them");
    same(await page.locator('[aria-invalid="true"]').count(), 1, "and no other");
    await go("/build/panel");
    await undoable(page, path, "removing a line", async () => {
      await page.locator('.lines button[value="not-to-stay"]').click();
      await page.waitForLoadState();
    });
  });

  await test(`left and taken up again${how}`, async () => {
    await site.stop();
    await page.context().close();
    site = await serve(path);
    page = await visit(site, { javaScriptEnabled });
    await go("/build");
    const text = await main(page);
    check(text.includes("4 branches, 0 rooms, 0 appliances"), text);
    await page.locator("a.next").click();
    await page.waitForURL(/rooms/);
  });

  await test(`rooms, and appliances by room${how}`, async () => {
    const room = () => form(page, "/build/add", "room");
    await undoable(page, path, "a room", () => send(page, room(), { name: "Kitchen", floor: "ground" }));
    await refused(page, path, room, { name: "Bedroom", floor: "upper", area: "wide" }, "Its area");
    await send(page, room(), { area: "140" });
    await go("/build/appliances");
    const load = () => form(page, "/build/add", "appliance");
    const add = (fields) => send(page, load(), fields);
    check(await page.locator("section", { has: page.locator("#in-kitchen") }).locator('form[action="/build/add"]').isVisible(),
      "the form stands under the first room that has nothing");
    await refused(page, path, load, { name: "Kettle", rating: "-1500", at: "branch:kitchen-outlets" }, "Rating on its nameplate");
    await refused(page, path, load, { name: "Gadget without a plate", rating: "", at: "branch:kitchen-outlets" }, "no rating");
    await refused(page, path, load, { name: "Kettle", rating: "1500", at: "branch:kitchen-outlets", use: "25:00-26:00" }, "When is it used?");
    await undoable(page, path, "an appliance", async () => {
      await go("/build/appliances?room=kitchen");
      await add({ name: "Kettle", rating: "1500", at: "branch:kitchen-outlets", use: "07:00-07:05, 17:00-17:05" });
    });
    same(await load().locator('[name="at"]').inputValue(), "branch:kitchen-outlets", "the place of the last one is proposed");
    same(await page.evaluate(() => document.activeElement.id), "appliance-name", "focus");
    await add({ name: "Coffee maker" });
    check((await main(page)).includes("a typical rating"), "a typical rating is marked");
    await page.locator('.room a[href*="room=bedroom"]').click();
    await page.waitForURL(/room=bedroom/);
    await add({ name: "Heater, by the bed", rating: "12.5", unit: "A", at: "branch:bedroom-outlets", use: "06:00-07:00",
      days: "weekdays", months: "nov-mar", category: "space-heating" });
    await add({ name: "3x Lamp 9 W" });
    await add({ name: "Hair dryer", rating: "1.2 kW", use: "06:30-06:40" });
  });

  await test(`a further panel, with a door of its own${how}`, async () => {
    await go("/build/panels");
    const panel = () => form(page, "/build/add", "panel");
    await refused(page, path, panel, { name: "Garage", breaker: "40", poles: "2", wire: "99 AWG copper" }, "Wire");
    await undoable(page, path, "a panel", async () => {
      await send(page, panel(), { name: "Garage", breaker: "40", poles: "2", wire: "8 AWG copper", length: "60" });
      same(await page.locator('[role="status"]').innerText(), "Added: Garage.", "a panel said");
    });
    await page.locator('a[href="/build/panel?panel=garage"]').click();
    await page.waitForURL(/panel=garage/);
    const line = () => form(page, "/build/add", "branch");
    same(await line().locator('[name="position"]').inputValue(), "1", "its spaces are its own");
    await undoable(page, path, "a line there", () => send(page, line(), { label: "Garage bench", breaker: "20", legs: "B" }));
    check(page.url().includes("panel=garage"), "stays at that door");
    await go("/build/appliances?room=");
    await send(page, form(page, "/build/add", "appliance"), { name: "Grinder", rating: "1/2", unit: "hp", at: "branch:garage-bench" });
  });

  await test(`corrections: branch, room, appliance${how}`, async () => {
    await go("/build/panel");
    await page.locator('a[href="/build/correct/branch/kitchen-outlets"]').click();
    await page.waitForURL(/correct/);
    const branch = () => form(page, "/build/set", "branch");
    const folded = (await branch().locator("details.more").innerHTML()).replace(/<[^>]*>/g, " ");
    check(folded.includes("Never take a cover off") && folded.includes("Fault current that the device can break"), folded);
    check((await page.locator('form[action="/build/set"] [name="instantaneous"]').count()) === 1, "the maker's trip is asked");
    const said = await branch().locator("details.more .field").evaluateAll((fields) => fields.map((one) => one.querySelector("input, select")).filter((one) => one.name !== "panel").map((one) => one.value));
    check(said.length > 5 && said.every((value) => value === ""), `what is said already stands in sight, only the rest is folded: ${said}`);
    await refused(page, path, branch, { wire: "string", serves: ["kitchen"], protection: ["gfci", "afci"] }, "Wire");
    await undoable(page, path, "a branch corrected", async () => {
      await go("/build/correct/branch/kitchen-outlets");
      await send(page, branch(), { wire: "12 AWG copper", purpose: "small-appliance", serves: ["kitchen"], protection: ["gfci", "afci"] });
    });
    await go("/build/correct/branch/kitchen-outlets");
    check(await branch().locator('[name="wire"]').isVisible(), "a wire that is said stands in sight");
    check(!(await branch().locator('[name="length"]').isVisible()) && (await branch().innerText()).includes("Never take a cover off"), "what nobody said is folded, the caution is not");
    await go("/build/panel");
    same(new URL(page.url()).pathname, "/build/panel", "back at the door");
    await go("/build/correct/room/bedroom");
    await undoable(page, path, "a room corrected", async () => {
      await go("/build/correct/room/bedroom");
      await send(page, form(page, "/build/set", "room"), { name: "Sleeping room", "room-kind": "bedroom" });
      check(/name = Sleeping room\n(floor.*\n)?(area.*\n)?kind = bedroom/.test(houseText(path)), "the kind of the room is stored");
    });
    await page.locator('form[action="/build/undo"] button').click();
    const load = () => form(page, "/build/set", "appliance");
    await go("/build/correct/appliance/kettle");
    same([await load().locator('[name="rating"]').inputValue(), await load().locator('[name="unit"]').inputValue()],
      ["1500", "W"], "as stored");
    await refused(page, path, load, { rating: "1400", count: "many" }, "How many alike");
    await undoable(page, path, "an appliance corrected", async () => {
      await go("/build/correct/appliance/kettle");
      await send(page, load(), { rating: "1400" });
    });
    await go("/build/correct/panel/garage");
    await undoable(page, path, "a panel corrected", async () => {
      await go("/build/correct/panel/garage");
      await send(page, form(page, "/build/set", "panel"), { name: "Shed", length: "" });
    });
    await page.locator('form[action="/build/undo"] button').click();
    same((await page.goto(site.base + "/build/correct/branch/nothing")).status(), 404, "a branch that is not there");
    same((await page.goto(site.base + "/build/correct/house/x")).status(), 404, "no ID");
  });

  await test(`outlets with distances, in order${how}`, async () => {
    await go("/build/outlets/kitchen-outlets");
    const outlet = () => form(page, "/build/add", "outlet");
    await refused(page, path, outlet, { name: "left of the sink", room: "kitchen" }, "Cable from there");
    await undoable(page, path, "an outlet", () => send(page, outlet(), { name: "left of the sink", room: "kitchen", run: "22" }));
    same([await outlet().locator('[name="from"]').inputValue(), await outlet().locator('[name="room"]').inputValue()],
      ["left-of-the-sink", "kitchen"], "the next one hangs on the last");
    await send(page, outlet(), { name: "right of the sink", run: "6 ft", rating: "20" });
    await undoable(page, path, "an outlet corrected", async () => {
      await go("/build/correct/outlet/right-of-the-sink");
      await send(page, form(page, "/build/set", "outlet"), { run: "6.5" });
    });
    same(new URL(page.url()).pathname, "/build/outlets/kitchen-outlets", "back at its branch");
    await undoable(page, path, "an appliance put on an outlet", async () => {
      await go("/build/correct/appliance/kettle");
      await send(page, form(page, "/build/set", "appliance"), { at: "outlet:left-of-the-sink" });
    });
  });

  await test(`what energy costs, and scenes${how}`, async () => {
    await go("/build/tariff");
    const tariff = () => form(page, "/build/add", "tariff");
    await refused(page, path, tariff, { name: "Flat", price: "0,15", standing: "0.4" }, "Price of a kWh");
    await undoable(page, path, "a tariff", async () => {
      await go("/build/tariff");
      await send(page, tariff(), { name: "Flat", price: "0.14", standing: "0.4", tax: "6" });
      same(await page.locator('[role="status"]').innerText(), "Added: Flat.", "a tariff said");
    });
    await undoable(page, path, "a tariff corrected", async () => {
      await go("/build/correct/tariff/flat");
      await send(page, form(page, "/build/set", "tariff"), { price: "0.15" });
    });
    const period = () => form(page, "/build/add", "period");
    await refused(page, path, period, { price: "0.09", hours: "21:00-25:00", days: "weekdays" }, "Hours");
    await undoable(page, path, "a period", async () => {
      await go("/build/tariff");
      await send(page, period(), { price: "0.1", hours: "21:00-07:00", days: "weekdays" });
    });
    await undoable(page, path, "a period corrected", async () => {
      await go("/build/correct/period/21-00-07-00");
      await send(page, form(page, "/build/set", "period"), { price: "0.09" });
    });
    await go("/build/scenes");
    const scene = () => form(page, "/build/add", "scene");
    await refused(page, path, scene, { name: "Breakfast", on: [] }, "What is on then");
    await undoable(page, path, "a scene", async () => {
      await go("/build/scenes");
      await send(page, scene(), { name: "Breakfast", on: ["kettle", "coffee-maker"] });
    });
    await undoable(page, path, "a scene corrected", async () => {
      await go("/build/correct/scene/breakfast");
      same(await form(page, "/build/set", "scene").locator('[value="kettle"]').isChecked(), true, "as stored");
      await send(page, form(page, "/build/set", "scene"), { "n-lamp": "2" });
    });
  });

  await test(`what others hang on goes with all of it, or not at all${how}`, async () => {
    const whole = houseText(path);
    const ask = async (page_, id) => {
      await go(page_);
      await page.locator(`.lines button[value="${id}"]`).click();
      await page.waitForLoadState();
      same(houseText(path), whole, "nothing goes unasked");
      return page.locator('[role="alert"]').innerText();
    };
    const text = await ask("/build/panel", "kitchen-outlets");
    for (const word of ["Kitchen outlets can't go alone", "appliance Kettle would go with it", "outlet left of the sink would go with it",
      "scene Breakfast would stay"]) { check(text.includes(word), `${word} in ${text}`); }
    await page.locator('button:has-text("Remove with all")').click();
    await page.waitForLoadState();
    check(!houseText(path).includes("Kettle") && !houseText(path).includes("sink"), "all of it is gone");
    await page.locator('form[action="/build/undo"] button').click();
    await page.waitForLoadState();
    same(houseText(path), whole, "and all of it is back");
    for (const [where, id, word] of [["/build/rooms", "kitchen", "branch Kitchen outlets would stay"],
      ["/build/panels", "garage", "appliance Grinder"], ["/build/tariff", "flat", "would go with it"],
      ["/build/outlets/kitchen-outlets", "left-of-the-sink", "outlet right of the sink"]]) {
      const said = await ask(where, id);
      check(said.includes(word), `${word} in ${said}`);
    }
    await page.goto(site.base + "/build/appliances");
    await page.locator('.lines button[value="lamp"]').click();
    await page.waitForLoadState();
    await page.locator('a:has-text("Leave it")').click();
    same(houseText(path), whole, "left");
  });

  await test(`at the end the house is what was typed, and check agrees${how}`, async () => {
    const coffee = /power = ([0-9.]+) W/.exec(houseText(path).split("[appliance coffee-maker]")[1])[1];
    const known = JSON.parse(ampsum("typical", "coffee maker", "--rules=us", "--format=json"));
    check(JSON.stringify(known).includes(coffee), `typical ${coffee} W`);
    const file = join(scratch, "typed.ini");
    writeFileSync(file, typed(coffee));
    const by_hand = join(scratch, javaScriptEnabled ? "typed.db" : "typed-plain.db");
    ampsum("import", file, "-o", by_hand);
    const got = houseText(path).split("\n");
    for (const [i, line] of houseText(by_hand).split("\n").entries()) { same(got[i], line, `line ${i + 1} of the house`); }
    const answer = json("check", path);
    same(answer.status, "over", "the bedroom is over");
    await go("/build/missing");
    const text = await main(page);
    for (const branch of answer.branches) {
      const line = await page.locator(".gaps li", { has: page.locator(`.v-${branch.status}`) }).innerText();
      check(line.includes(branch.label), `${branch.label} under ${branch.status}: ${line}`);
    }
    const gap = (title) => page.locator(".gaps li", { hasText: title }).innerText();
    check((await gap("The typical rating, to the watt")).includes("Coffee maker"), text);
    check(!(await gap("The typical rating, to the watt")).includes("Kettle"), text);
    check((await gap("Wire not known")).includes("Range"), text);
    check((await gap("Time of use not known")).includes("Lamp"), text);
    check((await gap("Nothing on this branch")).includes("Hall lights"), text);
    check(!text.includes("No price") && !text.includes("Floor area"), text);
    same(page.faults.filter((line) => !line.includes("422") && !line.includes("404")), [], "faults");
    await page.context().close();
    await site.stop();
  });
  return path;
}

async function twoAtOnce(path) {
  await test("a correction of what was changed meanwhile is asked again, nothing lost", async () => {
    const site = await serve(path);
    const { token, seen } = await secrets(site);
    ampsum("set", path, "appliance", "kettle", "power=1450 W");
    const fields = { token, seen, kind: "appliance", id: "kettle", name: "Kettle", rating: "1300", unit: "W", at: "outlet:left-of-the-sink" };
    const answer = await post(site, "/build/set", fields);
    same(answer.status, 409, "later than another");
    check(answer.body.includes('value="1300"') && answer.body.includes("1450 W"), "both are shown");
    const again = await secrets(site);
    same((await post(site, "/build/set", { ...fields, ...again })).status, 303, "done on the house as it is");
    check(houseText(path).includes("power = 1300 W"), "stored");
    await site.stop();
  });
  await test("the guide changes nothing by GET, and nothing by a form that is none of its own", async () => {
    const site = await serve(path);
    const before = houseText(path);
    for (const where of ["/build/add", "/build/set", "/build/remove", "/build/undo"]) {
      same((await raw(site, { path: where })).status, 405, where);
    }
    const { token, seen } = await secrets(site);
    for (const fields of [{ kind: "nothing" }, { kind: "house" }, { kind: "branch", id: "../x" }, { kind: "scene", name: "x", on: "nobody" },
      { kind: "period", price: "1" }, { kind: "appliance", name: "x", rating: "3", at: "" }, { kind: "appliance", name: "x", rating: "3", at: "moon" },
      { kind: "branch", lines: "6" }, { kind: "outlet", branch: "nobody" }, {}]) {
      for (const where of ["/build/add", "/build/set", "/build/remove"]) {
        const answer = await post(site, where, { token, seen, ...fields });
        check([404, 422].includes(answer.status) || houseText(path) === before, `${where} ${JSON.stringify(fields)}: ${answer.status}`);
      }
    }
    same(houseText(path), before, "the house");
    const typed = await post(site, "/build/add", { token, seen, kind: "appliance", name: "Owl lamp 9 W", at: "outlet:left-of-the-sink", room: "a b&c#é" });
    check(/Location: \/build\/appliances\?room=a%20b%26c%23%C3%A9&added=appliance\r?$/m.test(typed.head), typed.head);
    const corrected = await post(site, "/build/set", { token, seen: (await secrets(site)).seen, kind: "branch", id: "range", label: "Range", lines: "6" });
    check(/Location: \/build\/panel\r?$/m.test(corrected.head), corrected.head);
    ampsum("undo", path);
    same(houseText(path), before, "the house, the lamp undone");
    for (const back of ["https://evil.example/", "//evil.example", "/build/../files", "/build\nx"]) {
      const undone = await post(site, "/build/undo", { token, seen: (await secrets(site)).seen, back });
      check(/Location: \/(changes|build)\r?$/m.test(undone.head), undone.head);
      await post(site, "/redo", { token, seen: (await secrets(site)).seen });
    }
    same(houseText(path), before, "undone and done again");
    await site.stop();
  });
}

const pages = ["/first/branch", "/first/appliance?asked=name&name=Kettle", "/first/tariff", "/build", "/build/house", "/build/panel", "/build/panel?panel=workshop", "/build/panel?lines=6", "/build/rooms", "/build/appliances?room=kitchen",
  "/build/missing", "/build/outlets", "/build/outlets/bedroom", "/build/panels", "/build/tariff", "/build/scenes",
  ...["branch/bedroom", "room/kitchen", "appliance/kettle", "panel/workshop", "outlet/bd-1", "scene/breakfast", "tariff/evening-peak",
    "period/night"].map((row) => `/build/correct/${row}`)];

async function looks() {
  const path = database("guide-looks.db");
  const site = await serve(path);
  for (const colorScheme of ["light", "dark"]) {
    await test(`the guide: WCAG 2.1 A and AA by axe, ${colorScheme}`, async () => {
      const page = await visit(site, { bypassCSP: true, colorScheme });
      const found = [];
      for (const one of pages) {
        same((await page.goto(site.base + one)).status(), 200, one);
        await page.evaluate(() => document.querySelectorAll("details").forEach((each) => { each.open = true; }));
        await page.evaluate(axeSource);
        const result = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"] }));
        found.push(...result.violations.map((each) => `${one}: ${each.id}: ${each.nodes[0].html.slice(0, 160)}`));
      }
      same(found, [], "violations");
      await page.context().close();
    });
  }
  await test("the guide: no sideways scrolling at 360, 1280 and 1920 px, no ID twice", async () => {
    const page = await visit(site);
    const found = [];
    for (const width of [360, 1280, 1920]) {
      await page.setViewportSize({ width, height: 900 });
      for (const one of pages) {
        await page.goto(site.base + one);
        await page.evaluate(() => document.querySelectorAll("details").forEach((each) => { each.open = true; }));
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        const twice = await page.evaluate(() => [...document.querySelectorAll("[id]")].map((each) => each.id)
          .filter((id, at, all) => all.indexOf(id) !== at));
        if (wide > 0 || twice.length > 0) { found.push(`${one} at ${width}: ${wide} px, ${twice}`); }
      }
    }
    same(found, [], "faults");
    same(page.faults, [], "faults of the page");
    await page.context().close();
  });
  await site.stop();
}

// 40 branches, 20 rooms, 300 appliances, our own invention.
async function large() {
  await test("the guide of a house of 300 appliances: under 150 kB a page, and quick", async () => {
    const lines = ["[house]", "name = Long row", "rules = us", "main_breaker = 200 A"];
    for (let r = 0; r < 20; r++) { lines.push(`[room r-${r}]`, `name = Room number ${r}`); }
    for (let b = 0; b < 40; b++) { lines.push(`[branch b-${b}]`, `label = Branch number ${b} with a long label`, "breaker = 20 A", "legs = A"); }
    for (let a = 0; a < 300; a++) {
      lines.push(`[appliance a-${a}]`, `name = Coffee maker with a long name, number ${a}`, `branch = b-${a % 40}`, `room = r-${a % 20}`, "power = 900 W");
    }
    const file = join(scratch, "guide-large.ini");
    writeFileSync(file, lines.join("\n") + "\n");
    const path = join(scratch, "guide-large.db");
    ampsum("import", file, "-o", path);
    const site = await serve(path);
    for (const one of ["/build", "/build/panel", "/build/rooms", "/build/appliances", "/build/missing", "/build/scenes", "/build/outlets",
      "/build/correct/appliance/a-0", "/build/correct/branch/b-0"]) {
      const begun = Date.now();
      const answer = await raw(site, { path: one });
      const took = Date.now() - begun;
      same(answer.status, 200, one);
      const bytes = Buffer.byteLength(answer.body);
      console.log(`# ${one}: ${bytes} bytes, ${took} ms`);
      check(bytes < 150000, `${one}: ${bytes} bytes`);
    }
    await site.stop();
  });
}

// Half a form, and what becomes of it: gone elsewhere and back; the program stopped and started again.
export async function nothingLost() {
  const path = database("lost.db");
  let site = await serve(path);
  const page = await visit(site);
  const field = () => form(page, "/build/add", "room").locator('[name="name"]');
  await test("a half-typed form is there again after Back", async () => {
    await page.goto(site.base + "/build/rooms");
    await field().fill("Half a roo");
    await page.goto(site.base + "/cost");
    await page.goBack();
    same(await field().inputValue(), "Half a roo", "a step of the guide");
    await page.goto(site.base + "/");
    await page.locator('.ask-box [name="what"]').fill("Heater, 15");
    await page.goto(site.base + "/cost");
    await page.goBack();
    same(await page.locator('.ask-box [name="what"]').inputValue(), "Heater, 15", "the question's box");
    await page.goto(site.base + "/first/branch?asked=label&label=Attic");
    await page.locator('[name="breaker"]').fill("15 am");
    await page.goto(site.base + "/cost");
    await page.goBack();
    same(await page.locator('[name="breaker"]').inputValue(), "15 am", "a question of the first house");
  });
  await test("a question before is asked again with all that was answered, the place of the appliance among it", async () => {
    await page.goto(site.base + "/first/appliance?name=Kettle&room=kitchen&at=branch%3Akitchen-left&rating=1500&unit=W&asked=rating");
    const taken = () => page.locator("dl.taken div").allInnerTexts();
    const place = (await taken())[2];
    check(place.startsWith("Outlet or branch") && place.includes("Kitchen"), place);
    await page.getByRole("link", { name: "Back" }).click();
    await page.waitForURL(/rating=1500/);
    same(await page.locator('[name="rating"]').inputValue(), "1500", "the answer to the question before");
    same((await taken())[2], place, "the place");
    await page.getByRole("link", { name: "Change Room" }).click();
    await page.waitForURL((url) => url.searchParams.get("question") === "room");
    same(await page.locator('form [name="at"]').inputValue(), "branch:kitchen-left", "and it goes on from there");
  });
  await test("the program stopped and started again: the same address, the browser still let in, the form not lost", async () => {
    await page.goto(site.base + "/build/rooms");
    await field().fill("Attic");
    const before = houseText(path);
    await site.stop();
    const first = site;
    await page.locator('form[action="/build/add"] button').last().click().catch(() => {});
    await page.waitForTimeout(300);
    site = await serve(path);
    same([site.port, site.key], [first.port, first.key], "port and key");
    await page.goBack();
    await page.waitForLoadState();
    same(await field().inputValue(), "Attic", "typed before it stopped");
    await site.stop();
    site = await serve(path); // a page that was open all the while: its token is of another start
    await page.locator('form[action="/build/add"] button').last().click();
    await page.waitForLoadState();
    check((await main(page)).includes("Nothing of what you typed is lost"), await main(page));
    same(await page.locator('main [name="name"]').inputValue(), "Attic", "in the form that is asked again");
    same(houseText(path), before, "nothing was changed yet");
    await page.getByRole("button", { name: "Send it again" }).click();
    await page.waitForLoadState();
    check(houseText(path).includes("name = Attic"), "stored");
  });
  await test("a second start of the same house has an address of its own; --fresh forgets the kept one", async () => {
    const other = await serve(path);
    check(other.port !== site.port && other.key !== site.key, "beside the first");
    await other.stop();
    await site.stop();
    site = await serve(path, "--fresh");
    check(site.port !== other.port && site.key !== other.key, "neither");
    await page.goto(site.base + "/").catch(() => {});
    check((await main(page)).includes("open the whole address"), "the browser is not let in, and told how");
    await site.stop();
    await page.context().close();
  });
}

export async function firstHouse() {
  await nothingLost();
  const path = await story(true);
  await story(false);
  await twoAtOnce(path);
  await looks();
  await large();
}
