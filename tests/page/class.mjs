// The class view: nothing is told before it is asked for, not even in the page's source; step by step without a script.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { ampsum, check, database, json, raw, same, scratch, serve, test, visit } from "./lib.mjs";

const two = (value) => (Math.round(value * 100 + 1e-9) / 100).toFixed(2);

// Every current of the branch as it would stand on the page.
function currents(branch) {
  return [branch.all.current_a, branch.all.planning_a, ...branch.loads.map((load) => load.current_a)].map(two);
}

async function covered(site, path) {
  await test("covered means that the page's source does not hold it: title, drawing, table, words", async () => {
    const branch = json("branch", path, "bedroom");
    const shown = (await raw(site, { path: "/class/bedroom?figures=1" })).body;
    for (const figure of currents(branch).slice(0, 1)) { check(shown.includes(figure), `${figure} once shown`); }
    for (const address of ["/class", "/class/bedroom", "/class/bedroom?on=hair-dryer-bedroom", "/class/bedroom?shown=0",
      "/class/bedroom?on=&figures=1&shown=all&shown=0"]) {
      const body = (await raw(site, { path: address })).body;
      for (const figure of currents(branch)) { check(!body.includes(figure), `${figure} in ${address}`); }
      check(!/OVER|AT RISK/.test(body), `a verdict in ${address}`);
      const widths = new Set([...body.matchAll(/stroke-width="([\d.]+)"/g)].map((found) => found[1]));
      check(widths.size <= 2, `line widths tell currents in ${address}: ${[...widths]}`);
    }
    const half = (await raw(site, { path: "/class/bedroom?shown=2" })).body;
    check(half.includes("1500 W / 120 V = 12.5 A"), "the second step"); // By hand: I = P / V
    check(!half.includes(two(branch.all.current_a)), "no figure beyond the steps shown");
  });
}

async function steps(site, path) {
  await test("step by step, and a load opened, without a script", async () => {
    const page = await visit(site, { javaScriptEnabled: false });
    await page.goto(site.base + "/class/bedroom");
    check((await page.locator(".ask").innerText()).startsWith("Predict first."), "the class is asked first");
    for (let shown = 1; shown <= 3; shown++) {
      await page.locator("#next").click();
      same(await page.locator(".steps li").count(), shown, "steps");
    }
    await page.locator("#figures").click();
    same(await page.locator(".steps li").count(), 3, "steps stay");
    const branch = json("branch", path, "bedroom");
    const rows = () => page.locator("table tbody tr").allInnerTexts();
    const before = await rows();
    for (const [i, load] of branch.loads.entries()) { check(before[i].includes(`${two(load.current_a)} A`), `${load.id}: ${before[i]}`); }
    // The line to the first junction carries all; to the last, that load alone.
    const line = await page.locator("table tbody tr td:last-child").allInnerTexts();
    same(line[0], `${two(branch.all.current_a)} A`, "to the first junction");
    same(line.at(-1), `${two(branch.loads.at(-1).current_a)} A`, "to the last");
    await page.locator("#on-bedroom-heater").uncheck();
    await page.locator("button", { hasText: /^Switch$/ }).click();
    same(await page.locator(".steps li").count(), 0, "a switch covers the steps");
    check((await rows()).every((row) => row.includes("covered")), "and the currents");
    await page.locator("#figures").click();
    const after = await rows();
    check(after[0].includes("opened: no current"), after[0]);
    for (const row of after.slice(1)) { check(row.includes("unchanged"), row); }
    const without = json("check", path, "--on=" + branch.loads.slice(1).map((load) => load.id).join(",")).branches.find((one) => one.id === "bedroom");
    const said = await page.locator(".ask").last().innerText();
    check(said.includes(`Together ${two(branch.all.current_a)} A with all closed, ${two(without.scene.current_a)} A now.`), said);
    check(said.includes("5 of the 6 loads draw what they drew before"), said);
    await page.locator("#hide").click();
    same(await page.locator(".steps li").count(), 0, "covered again");
    check((await page.locator("table tbody .covered").count()) > 0, "covered again");
    same(await page.locator("#on-bedroom-heater").isChecked(), false, "the switch stays open");
    await page.context().close();
  });
  await test("a switch covers what was shown, pressed in the list or in the drawing; several alike are switched one by one", async () => {
    const page = await visit(site);
    await page.goto(site.base + "/class/bedroom?shown=all");
    check(await page.locator(".steps li").count() > 10, "all steps");
    const covered = () => page.waitForFunction(() => document.querySelectorAll(".steps li").length === 0 && document.querySelectorAll("tbody .covered").length >= 6);
    await page.locator("#on-bedroom-heater").uncheck();
    await covered();
    await page.locator("#figures").click();
    await page.waitForFunction(() => !document.querySelector("#figures"));
    await page.locator(".circuit g > desc").first().evaluate((one) => one.parentNode.querySelector("text").dispatchEvent(new MouseEvent("click", { bubbles: true })));
    await covered();
    same(await page.locator("#on-bedroom-heater").isChecked(), true, "the drawing's switch is the list's");
    await page.locator("#figures").click();
    await page.waitForFunction(() => !document.querySelector("#figures"));
    await page.locator("#on-bed-lamps").fill("1");
    await page.locator("#on-bed-lamps").press("Tab");
    await covered();
    await page.locator("#figures").click();
    // By hand: one lamp of 40 W at 120 V draws 0.33 A.
    await page.waitForFunction(() => [...document.querySelectorAll("table tbody tr")].some((row) => row.innerText.includes("Bedside lamps") && row.innerText.includes("0.33 A")));
    await page.locator("a", { hasText: "What if a 1500 W heater" }).click();
    const text = await page.locator("main").innerText();
    const then = json("try", path, "--add=Heater, 1500 W", "--branch=bedroom").branches[0].after;
    check(text.includes(`${then.all.planning_a.toFixed(1)} A with everything on`), text);
    same(page.faults, [], "faults");
    await page.context().close();
  });
  await test("large type on a projector: 24 px and more at 1920 px, and all of it within 360 px", async () => {
    const page = await visit(site, { viewport: { width: 1920, height: 1080 } });
    await page.goto(site.base + "/class/bedroom?figures=1");
    for (const part of ["main td", "main .switches label", ".circuit text", ".ask"]) {
      const px = await page.locator(part).first().evaluate((one) => {
        const svg = one.closest("svg");
        return parseFloat(getComputedStyle(one).fontSize) * (svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1);
      });
      check(px >= 24, `${part}: ${px} px`);
    }
    await page.setViewportSize({ width: 360, height: 800 });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    check(wide <= 0, `${wide} px too wide`);
    for (const language of ["en", "de", "es", "fr"]) {
      await page.goto(`${site.base}/class/bedroom?figures=1&language=${language}`);
      const cut = await page.locator(".circuit:visible text").evaluateAll((texts) => texts.map((one) => one.textContent).filter((word) => word.includes("\u2026")));
      same(cut, [], `${language}: no word of the drawing is cut at 360 px`);
    }
    await page.context().close();
  });
}

async function projector(site, path) {
  await test("a projector of 1280 x 720 shows question, circuit, switches and buttons without scrolling; a step lands in sight", async () => {
    const page = await visit(site, { viewport: { width: 1280, height: 720 } });
    await page.goto(site.base + "/class/bedroom");
    for (const part of [".ask", ".circuit svg", ".switches", "#next", "#figures"]) {
      const box = await page.locator(part).first().boundingBox();
      check(box.y + box.height <= 720, `${part} ends at ${box.y + box.height}`);
    }
    for (let shown = 1; shown <= 6; shown++) {
      await page.locator("#next").click();
      await page.waitForFunction((count) => document.querySelectorAll(".steps li").length === count, shown);
      const box = await page.locator(".steps li").last().boundingBox();
      check(box.y >= -1 && box.y + box.height <= 721, `step ${shown} ends at ${box.y + box.height}`);
    }
    same(page.faults, [], "faults");
    await page.context().close();
  });
  await test("ten loads fit a projector of 1280 x 720 too", async () => {
    const file = join(scratch, "ten.ini");
    const loads = Array.from({ length: 10 }, (_, i) => `[appliance a${i}]\nname = ${i === 3 ? "Boiler pump and controls" : `Appliance number ${i}`}\nbranch = row\npower = ${60 + 130 * i} W`);
    writeFileSync(file, ["[house]", "name = Ten", "rules = us", "main_breaker = 60 A", "[branch row]", "label = Row of ten", "breaker = 15 A", "legs = A", ...loads].join("\n") + "\n");
    const ten = await serve(file);
    const page = await visit(ten, { viewport: { width: 1280, height: 720 } });
    await page.goto(ten.base + "/class/row");
    for (const part of [".ask", ".board .circuit svg", ".board fieldset", "#hide"]) {
      const box = await page.locator(part).first().boundingBox();
      check(box.y >= 0 && box.y + box.height <= 720, `${part} ends at ${box.y + box.height}`);
    }
    for (const state of ["", "?figures=1"]) {
      await page.goto(ten.base + "/class/row" + state);
      const words = await page.locator(".circuit:visible text").evaluateAll((texts) => texts.map((one) => {
        const svg = one.closest("svg");
        return [one.textContent, parseFloat(getComputedStyle(one).fontSize) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width];
      }));
      check(words.length > 20 && words.every(([, px]) => px >= 14), `read from the back of a room: ${JSON.stringify(words)}`);
      check(words.every(([word]) => !word.includes("\u2026")), `nothing is cut: ${JSON.stringify(words)}`);
      const touching = await page.locator(".circuit:visible svg g g").evaluateAll((rungs) => rungs.filter((rung) => {
        const sign = [...rung.querySelectorAll("path, polygon, rect, circle")].map((one) => one.getBoundingClientRect()).filter((box) => box.height > 6 && box.width > 20);
        return [...rung.querySelectorAll("text")].some((text) => sign.some((box) => text.getBoundingClientRect().right > box.left));
      }).length);
      same(touching, 0, "no word touches a sign");
    }
    await page.context().close();
    await ten.stop();
  });
  await test("the class view hands out the live lesson that the command writes", async () => {
    const got = await raw(site, { path: "/live/bedroom" });
    check(got.status === 200 && /attachment; filename="?bedroom.html/i.test(got.head), got.head);
    const file = join(scratch, "handed-out.html");
    ampsum("lesson", path, "--live", "bedroom", "-o", file, "--force");
    same(got.body, readFileSync(file, "utf8"), "the same bytes");
    check((await raw(site, { path: "/class/bedroom" })).body.includes("/live/bedroom"), "a link to it");
  });
}

export async function classView() {
  const path = database("class-view.db");
  const site = await serve(path, "--read-only");
  await covered(site, path);
  await steps(site, path);
  await projector(site, path);
  await site.stop();
}
