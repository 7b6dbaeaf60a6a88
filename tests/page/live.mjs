// The live lesson: one file, opened from the disk, without a server and without a network.
import { statSync, readFileSync, writeFileSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { ampsum, axe, check, database, demo, json, open, raw, same, scratch, serve, shots, test, visit } from "./lib.mjs";

const make = (house, branch, name) => {
  const file = join(scratch, name);
  ampsum("lesson", house, "--live", branch, "-o", file, "--force");
  return file;
};

async function look(file, options = {}) {
  const page = await open({ offline: true, ...options });
  page.asked = [];
  page.on("request", (request) => page.asked.push(request.url()));
  await page.goto(pathToFileURL(file).href);
  return page;
}

const cell = (page, id) => page.locator(`#${id}`).innerText();
const ampere = (value) => `${(Math.round(value * 100 + 1e-7) / 100).toFixed(2)} A`;

function tenLoads() {
  const lines = ["[house]", "name = Ten", "rules = us", "system = single-phase", "main_breaker = 100 A", "[branch b]",
    "label = Outlets of a long hall", "breaker = 20 A"];
  for (let i = 0; i < 12; i++) {
    lines.push(`[appliance a-${i}]`, `name = Appliance number ${i} of this hall`, "branch = b", `power = ${137 * i + 90} W`, `power_factor = 0.${80 + i}`);
  }
  const file = join(scratch, "ten.ini");
  writeFileSync(file, lines.join("\n") + "\n");
  return file;
}

export async function live() {
  const us = demo("us.ini");
  const file = make(us, "bedroom", "bedroom.html");
  const ids = json("branch", us, "bedroom").loads.map((load) => load.id);
  await test("live lesson: covered until asked, covered again by a switch, each state as the command has it, no request", async () => {
    const page = await look(file);
    const main = page.locator("main");
    check((await main.innerText()).includes("the answers lie in this file"), "it says what it is for");
    check(!(await main.innerText()).includes("25.08"), "covered");
    same(await cell(page, "together"), "covered", "together");
    await page.locator("#guess").fill("about 25");
    await page.locator("#cover").click();
    const all = json("branch", us, "bedroom");
    same(await cell(page, "together"), ampere(all.all.current_a), "everything on");
    const said = await cell(page, "said");
    check(said.includes("You wrote about 25.") && said.includes("25.41 A") && said.includes("OVER"), said);
    for (const [i, load] of all.loads.entries()) { same(await cell(page, `own${i}`), ampere(load.current_a), load.id); }
    for (const off of [[0], [0, 3], [1, 2, 4, 5]]) {
      for (const i of ids.keys()) { await page.locator("#switches input").nth(i).setChecked(!off.includes(i)); }
      same(await cell(page, "together"), "covered", "a switch covers again");
      same(await page.locator("#guess").inputValue(), "", "a new prediction");
      await page.locator("#cover").click();
      const on = ids.filter((_, i) => !off.includes(i)).map((id) => { const count = id === "bed-lamps" || id === "phone-chargers" ? "*2" : ""; return id + count; });
      const want = json("check", us, `--on=${on.join(",")}`).branches.find((one) => one.id === "bedroom").scene;
      same(await cell(page, "together"), ampere(want.current_a), on.join());
      check((await cell(page, "said")).includes(ampere(want.planning_a)), `planned: ${await cell(page, "said")}`);
      same(await page.locator(".rung.off").count(), off.length, "drawn open");
    }
    same([page.asked.filter((url) => !url.startsWith("file:")), page.faults], [[], []], "requests, faults");
    await page.context().close();
  });
  await test("live lesson: keyboard alone, and a press on the drawing", async () => {
    const page = await look(file);
    await page.keyboard.press("Tab");
    await page.keyboard.press("Space");
    same(await page.locator("#switches input").first().isChecked(), false, "the first switch");
    for (let i = 0; i < ids.length + 1; i++) { await page.keyboard.press("Tab"); }
    same(await page.evaluate(() => document.activeElement.id), "cover", "the button is reached");
    await page.keyboard.press("Enter");
    same(await cell(page, "own0"), "0.00 A", "the opened load");
    await page.locator("#rung0").click({ position: { x: 20, y: 26 } });
    same(await page.locator("#switches input").first().isChecked(), true, "a press on the drawing closes it");
    same(await cell(page, "own0"), "covered", "and covers");
    await page.context().close();
  });
  await test("live lesson: axe, no sideways scrolling, light and dark, 360 to 1920 px; at 1280 x 720 the circuit is in sight", async () => {
    const ten = make(tenLoads(), "b", "ten.html");
    check(statSync(ten).size <= 100000, `${statSync(ten).size} bytes for ten loads`);
    check(readFileSync(ten, "utf8").includes("2 smaller loads of this branch are left off"), "which are left off");
    for (const colorScheme of ["light", "dark"]) {
      for (const [width, height] of [[360, 740], [1280, 720], [1920, 1080]]) {
        const page = await look(file, { bypassCSP: true, colorScheme, viewport: { width, height } });
        same(await axe(page), [], `${colorScheme} ${width}`);
        await page.locator("#cover").click();
        same(await axe(page), [], `${colorScheme} ${width}, shown`);
        check(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), `${width}: too wide`);
        if (width === 1280) {
          const foot = await page.locator("#rung5").boundingBox();
          check(foot.y + foot.height <= 720, `the last rung ends at ${foot.y + foot.height}`);
        }
        if (shots) { mkdirSync(shots, { recursive: true }); await page.screenshot({ path: join(shots, `live-${colorScheme}-${width}.png`), fullPage: true }); }
        await page.context().close();
      }
    }
  });
}
