// The report as one HTML file, on a narrow screen: nothing is cut, each table is readable without scrolling sideways.
import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { ampsum, axe, check, demo, open, same, scratch, shots, test } from "./lib.mjs";

const tests = join(dirname(fileURLToPath(import.meta.url)), "..");

// A made-up house with long names and labels.
function longHouse() {
  const path = join(scratch, "long.ini");
  writeFileSync(path, execFileSync("awk", ["-v", "branches=20", "-v", "each=6", "-f", join(tests, "print", "house.awk")], { input: "" }));
  return path;
}

// What a table shows at this width: cells outside their table or the screen, tables that scroll, cells without a heading.
const faults = () => {
  const found = [];
  for (const table of document.querySelectorAll("table")) {
    const name = table.caption.textContent;
    const box = table.parentElement;
    if (box.scrollWidth > box.clientWidth + 1) { found.push(`${name}: scrolls sideways`); }
    for (const cell of table.querySelectorAll("tbody th, tbody td")) {
      const at = cell.getBoundingClientRect();
      if (at.width === 0 && cell.textContent !== "") { found.push(`${name}: hidden '${cell.textContent}'`); }
      if (at.right > innerWidth || cell.scrollWidth > cell.clientWidth + 1) { found.push(`${name}: cut '${cell.textContent}'`); }
      const cards = getComputedStyle(table).display === "block";
      if (cards && cell.tagName === "TD" && cell.textContent !== "" && getComputedStyle(cell, "::before").content.length < 3) {
        found.push(`${name}: no heading before '${cell.textContent}'`);
      }
    }
  }
  return found.slice(0, 5);
};

export async function paper() {
  const houses = [["us", demo("us.ini")], ["uk", demo("uk.ini")], ["iec", demo("iec.ini")], ["old", demo("old.ini")], ["long", longHouse()]];
  for (const [name, path] of houses) {
    await test(`report of ${name} as HTML at 360 px: each table readable, nothing scrolls sideways, axe clean`, async () => {
      const file = join(scratch, `report-${name}.html`);
      ampsum("report", path, "-o", file);
      const page = await open({ viewport: { width: 360, height: 740 }, bypassCSP: true });
      await page.goto(pathToFileURL(file).href);
      check(await page.locator("table").count() > 5, "tables");
      same(await page.locator("details.annex[open]").count(), 0, "opened parts of the annex");
      const shown = await page.evaluate(() => [...document.querySelectorAll("h2, figure svg, table")].filter((at) => at.checkVisibility()).map((at) => at.tagName).join(" "));
      check(shown.startsWith("svg H2 H2 H2"), `bars, what to do, the bill, cautions first: ${shown}`);
      check(!shown.includes("TABLE"), "no table before one is asked for");
      const height = await page.evaluate(() => document.documentElement.scrollHeight);
      check(name === "long" || height < 3600, `the answer is short: ${height} px`);
      const bars = await page.locator("figure svg").filter({ visible: true }).first().boundingBox();
      check(bars.x >= 0 && bars.x + bars.width <= 360, `the bars are within the screen: ${JSON.stringify(bars)}`);
      await page.emulateMedia({ colorScheme: "dark" });
      same(await axe(page), [], "axe at 360, dark, folded");
      check(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor) !== "rgb(255, 255, 255)", "a dark ground");
      await page.emulateMedia({ media: "print", colorScheme: "dark" });
      same(await page.evaluate(() => getComputedStyle(document.documentElement).color), "rgb(0, 0, 0)", "ink on paper");
      same(await page.evaluate(() => [...document.querySelectorAll("details.annex table")].filter((at) => at.getBoundingClientRect().height === 0).length), 0, "tables folded away on paper");
      await page.emulateMedia({ media: "screen", colorScheme: "light" });
      await page.evaluate(() => document.querySelectorAll("details").forEach((at) => { at.open = true; }));
      same(await page.evaluate(() => document.documentElement.scrollWidth), 360, "width of the document");
      same(await page.evaluate(faults), [], "tables");
      same(await axe(page), [], "axe at 360");
      if (shots && name !== "long") { mkdirSync(shots, { recursive: true }); await page.screenshot({ path: join(shots, `report-${name}-360.png`), fullPage: true }); }
      await page.setViewportSize({ width: 1280, height: 900 });
      same(await page.evaluate(faults), [], "tables at 1280");
      same(await axe(page), [], "axe at 1280");
      await page.context().close();
    });
  }
}
