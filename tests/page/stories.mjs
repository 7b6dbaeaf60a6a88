// Each of the three users from an empty folder to the end.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { ampsum, check, houseText, database, json, same, scratch, serve, test, visit } from "./lib.mjs";

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
    check((await page.locator('[role="alert"]').innerText()).includes("main_breaker"), "a wrong value is named");
    same(await page.locator('[name="name"]').inputValue(), "Our house", "what was typed stays");
    check(!existsSync(path), "nothing stored yet");
    await fill(page, form("/build/house"), { main_breaker: "100 A" });
    await fill(page, form("/build/add", "branch"), { label: "Kitchen outlets", breaker: "20", legs: "A", position: "1" });
    await fill(page, form("/build/add", "branch"), { label: "Bedroom outlets", breaker: "15", legs: "B", position: "1" });
    check((await page.locator('[role="alert"]').innerText()).includes("position"), "a space taken twice is named");
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
    check(places.length === 1 && places[0].includes("Kitchen outlets") && places[0].includes("could take it"), places.join("\n"));
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

async function instructor() {
  await test("an instructor shows a branch: hidden answers, step by step, one load opened changes no other", async () => {
    const path = database("class.db");
    const site = await serve(path);
    const page = await visit(site, { viewport: { width: 1920, height: 1080 } });
    await page.goto(site.base + "/class");
    await page.locator('a[href="/class/bedroom"]').click();
    const answers = async () => (await page.locator("table tbody tr td:nth-of-type(2)").allInnerTexts());
    check((await answers()).every((one) => one === "covered"), "answers are covered");
    same(await page.locator(".steps li").count(), 0, "no step yet");
    check(!/\d A/.test((await page.locator("svg.circuit .rail").allTextContents()).join()), "no figures in the drawing yet");
    await page.locator("#next").click();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length === 1);
    await page.locator("#next").click();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length === 2);
    await page.locator("#every").click();
    await page.waitForFunction(() => !document.querySelector("#every"));
    const before = await page.locator("table tbody tr").allInnerTexts();
    await page.locator("#on-bedroom-heater").uncheck();
    await page.waitForFunction(() => document.querySelector("main").innerText.includes("opened"));
    const all = page.locator("#every");
    if (await all.count() > 0) { await all.click(); await page.waitForFunction(() => !document.querySelector("#every")); }
    const after = await page.locator("table tbody tr").allInnerTexts();
    const heater = after.filter((row) => row.includes("Portable heater"));
    check(heater.length === 1 && heater[0].includes("no current"), heater.join());
    for (const [i, row] of after.entries()) {
      if (!row.includes("Portable heater")) { same(row, before[i], "another load"); check(row.includes("unchanged"), row); }
    }
    const size = await page.locator("main td").first().evaluate((one) => parseFloat(getComputedStyle(one).fontSize));
    check(size >= 24, `large type: ${size} px`);
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

async function electrician() {
  await test("an electrician reads findings with sources and takes the house file and the report away", async () => {
    const path = database("visit.db");
    const site = await serve(path, "--read-only");
    const page = await visit(site);
    await page.locator('[data-branch="bedroom"] h3 a').click();
    const want = json("branch", path, "bedroom").findings;
    const text = await page.locator(".findings").innerText();
    for (const finding of want) { check(text.includes(finding.source), finding.source); }
    await page.goto(site.base + "/files");
    const take = async (link) => {
      const [download] = await Promise.all([page.waitForEvent("download"), page.locator(`a[href="${link}"]`).click()]);
      return readFileSync(await download.path(), "utf8");
    };
    same(await take("/files/house.ini"), houseText(path), "the house file");
    const report = await take("/files/report.html");
    check(report.includes("Larkspur Lane 14") && !report.includes("<script"), "the report");
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
