// Each of the three users from an empty folder to the end.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { check, houseText, json, same, scratch, serve, test, visit } from "./lib.mjs";

const last = (page) => page.locator(".changes li").first().innerText();

async function fill(page, form, fields) {
  for (const [name, value] of Object.entries(fields)) {
    const field = form.locator(`[name="${name}"]`);
    if (await field.evaluate((one) => one.tagName) === "SELECT") { await field.selectOption(value); } else { await field.fill(value); }
  }
  await form.locator("button").last().click();
  await page.waitForLoadState();
}

async function homeowner(javaScriptEnabled) {
  const how = javaScriptEnabled ? "" : ", without a script";
  const path = join(scratch, javaScriptEnabled ? "first.db" : "first-plain.db");
  await test(`a homeowner makes a first house from nothing, and check agrees${how}`, async () => {
    const site = await serve(path);
    const page = await visit(site, { javaScriptEnabled });
    const form = (action, kind) => page.locator(`form[action="${action}"]` + (kind ? `:has(input[name="kind"][value="${kind}"])` : ""));
    await fill(page, form("/build/house"), { name: "Our house", rules: "us", main_breaker: "lots" });
    check((await page.locator('[role="alert"]').innerText()).includes("Main breaker or supply fuse: lots"), "a wrong value is named");
    same(await page.locator('[name="name"]').inputValue(), "Our house", "what was typed stays");
    check(!existsSync(path), "nothing stored yet");
    await fill(page, form("/build/house"), { main_breaker: "100 A" });
    await fill(page, form("/build/add", "branch"), { label: "Kitchen outlets", breaker: "20", legs: "A", position: "1" });
    await fill(page, form("/build/add", "branch"), { label: "Bedroom outlets", breaker: "15", legs: "B", position: "1" });
    check((await page.locator('[role="alert"]').innerText()).includes("Space in the panel"), "a space taken twice is named");
    await fill(page, form("/build/add", "branch"), { position: "2" });
    await site.stop();
    const again = await serve(path);
    await page.goto(again.enter);
    await page.goto(again.base + "/build");
    check((await page.locator("main").innerText()).includes("2 branches"), "goes on where it was left");
    await page.goto(again.base + "/build/rooms");
    await fill(page, form("/build/add", "room"), { name: "Kitchen" });
    await fill(page, form("/build/add", "room"), { name: "Bedroom" });
    const appliance = async (room, fields) => {
      await page.goto(`${again.base}/build/appliances?room=${room}`);
      await fill(page, form("/build/add", "appliance"), fields);
    };
    const dryer = { name: "Hair dryer, 1200 W", at: "branch:bedroom-outlets", use: "06:30-06:40" };
    await appliance("kitchen", { name: "Kettle", rating: "1500", at: "branch:kitchen-outlets", use: "07:00-07:05, 17:00-17:05" });
    await appliance("bedroom", { name: "Heater, 1500 W", at: "branch:bedroom-outlets", use: "06:00-07:00" });
    await appliance("bedroom", dryer);
    await page.locator('form[action="/build/undo"] button').click();
    check(!(await page.locator("main").innerText()).includes("Hair dryer"), "the last step is undone");
    await appliance("bedroom", dryer);
    const answer = json("check", path);
    same(answer.branches.map((branch) => [branch.id, branch.status]), [["kitchen-outlets", "ok"], ["bedroom-outlets", "over"]], "check");
    await page.goto(again.base + "/");
    check((await page.locator('[data-branch="bedroom-outlets"]').innerText()).includes("OVER"), "and so does the page");
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

// A house begun on the page, in an empty folder: one form after the other, fields by their names in the house file.
async function buildHouse(site, page, { house, rooms, branches, outlets, appliances }) {
  const send = async (where, action, kind, fields) => {
    if (where !== null) { await page.goto(site.base + where); }
    const form = page.locator(`form[action="${action}"]:has(input[name="kind"][value="${kind}"])`);
    for (const folded of await form.locator("details").all()) { await folded.evaluate((one) => { one.open = true; }); }
    for (const [name, value] of Object.entries(fields)) {
      const field = form.locator(`[name="${name}"]:not([type="hidden"])`);
      if (await field.evaluate((one) => one.tagName) === "SELECT") { await field.selectOption(value); } else { await field.fill(value); }
    }
    await form.locator("button").last().click();
    await page.waitForLoadState();
    same(await page.locator('[role="alert"]').allInnerTexts(), [], `${kind}: refused`);
  };
  await send(null, "/build/house", "house", house);
  for (const branch of branches) { await send("/build/panel", "/build/add", "branch", branch); }
  for (const room of rooms) { await send("/build/rooms", "/build/add", "room", { name: room }); }
  for (const [branch, outlet] of outlets) { await send(`/build/outlets/${branch}`, "/build/add", "outlet", outlet); }
  for (const [room, appliance] of appliances) { await send(`/build/appliances?room=${room}`, "/build/add", "appliance", appliance); }
}

async function instructor() {
  await test("an instructor, from an empty folder: builds a bench, lets the class predict, uncovers, opens a load, prints sheets", async () => {
    const path = join(scratch, "class.db");
    check(!existsSync(path), "an empty folder");
    const site = await serve(path);
    const page = await visit(site, { viewport: { width: 1920, height: 1080 } });
    await buildHouse(site, page, {
      house: { name: "Class 8b", rules: "us", system: "single-phase", main_breaker: "60 A" },
      branches: [{ label: "Bench outlets", breaker: "15" }], rooms: ["Classroom"], outlets: [],
      appliances: [["classroom", { name: "Lamp", rating: "60", at: "branch:bench-outlets" }],
        ["classroom", { name: "Kettle", rating: "1200", at: "branch:bench-outlets" }],
        ["classroom", { name: "Heater", rating: "600", at: "branch:bench-outlets" }]],
    });
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

async function electrician() {
  await test("an electrician, from an empty folder: a branch with its wire, current, headroom, end voltage, findings, a trial, report", async () => {
    const path = join(scratch, "visit.db");
    const site = await serve(path);
    const page = await visit(site);
    await buildHouse(site, page, {
      house: { name: "Harbour Row 3", rules: "us", main_breaker: "100 A" },
      branches: [{ label: "Study outlets", breaker: "15", legs: "A", wire: "14 AWG copper" }], rooms: ["Study"],
      outlets: [["study-outlets", { name: "desk", run: "60 ft", room: "study" }]],
      appliances: [["study", { name: "Heater", rating: "1500", at: "outlet:desk", use: "18:00-20:30" }]],
    });
    await page.goto(site.base + "/branch/study-outlets");
    const want = json("branch", path, "study-outlets");
    // By hand: 1500 W / 120 V = 12.5 A; 15 A - 12.5 A = 2.5 A. Wire: NEC Chapter 9 Table 8, 14 AWG solid 3.07 ohm per 1000 ft at 75 C,
    // out and back 120 ft = 0.3684 ohm; the heater is (120 V)^2 / 1500 W = 9.6 ohm; 120 V x 9.6 / (9.6 + 0.3684) = 115.565 V.
    same([want.all.current_a, want.all.headroom_a], [12.5, 2.5], "current and headroom");
    const end_v = 120 * 9.6 / (9.6 + 0.12 * 3.07);
    const wire = json("wire", path, "study-outlets").branches[0].outlets[0];
    check(Math.abs(wire.voltage_v - end_v) < 0.001, `${wire.voltage_v} V, by hand ${end_v} V`);
    const text = await page.locator("main").innerText();
    for (const part of ["12.50", "2.5", "115.57"]) { check(text.includes(part), `${part} in ${text}`); }
    check(want.findings.length > 0, "there is a finding: the drop is over 3 %");
    for (const finding of want.findings) { check(text.includes(finding.text) && text.includes(finding.source), finding.source); }
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

export async function stories() {
  await homeowner(true);
  await homeowner(false);
  await instructor();
  await electrician();
}
