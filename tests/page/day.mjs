// The day and the cost: figures and words of the commands, whatever is asked; what can be taken away.
import { execFileSync } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { ampsum, check, database, demo, houseText, json, program, raw, same, scratch, serve, serveBy, shots, test, visit } from "./lib.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const pages = ["/cost", "/cost?tariff=flat&move=dryer&start=22:30", "/cost/day", "/cost/day?of=main", "/cost/day?of=bedroom",
  "/cost/day?of=bedroom&day=weekend&month=jul", "/files", "/mark"];

async function axe(page) {
  await page.evaluate(axeSource);
  const found = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"] }));
  return found.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 120)).slice(0, 3).join(" | ")}`);
}

const fixed = (value, decimals) => (Math.round(value * 10 ** decimals + 1e-9) / 10 ** decimals).toFixed(decimals);
const answer = async (site, path) => JSON.parse((await raw(site, { path })).body);
const plain = (text) => text.replace(/\s+/g, " ");

// The command's sentence on the odds, from its text.
function odds(...words) {
  const text = plain(ampsum("day", ...words));
  return /Chance of more than .*?\. (?=Not exceeded)/.exec(text)[0].trim();
}

async function sameAsCommands(site, path, tariff, shift) {
  const days = [["", []], ["?of=main", ["main"]], ["?day=sun&month=jul", ["--day=sun", "--month=jul"]],
    ["?day=weekend", ["--day=weekend"]], ["?day=&month=&on-date=12-24", ["--on-date=12-24"]], ["?on-date=2024-02-29", ["--on-date=2024-02-29"]]];
  for (const branch of json("check", path).branches) { days.push([`?of=${branch.id}&day=weekday`, [branch.id, "--day=weekday"]]); }
  for (const [query, words] of days) {
    same(await answer(site, `/api/day${query}`), json("day", path, ...words), `/api/day${query}`);
  }
  const costs = [["", []], [`?tariff=${tariff[0]}`, [`--tariff=${tariff[0]}`]],
    [`?tariff=${tariff[0]}&tariff=${tariff[1]}`, [`--tariff=${tariff[0]}`, `--tariff=${tariff[1]}`]], ["?standby=1&loss=1", ["--standby", "--loss"]],
    [`?shift=${shift}=02:30`, [`--shift=${shift}=02:30`]], [`?move=${shift}&start=02:30&tariff=${tariff[1]}`, [`--shift=${shift}=02:30`, `--tariff=${tariff[1]}`]]];
  for (const [query, words] of costs) {
    same(await answer(site, `/api/cost${query}`), json("cost", path, ...words), `/api/cost${query}`);
  }
}

const homes = [["us", ["evening-peak", "flat"], "dryer"], ["iec", null, null], ["uk", ["single", "night-saver"], "washer"]];

async function figureTests() {
  for (const [name, tariff, shift] of homes) {
    const path = database(`day-${name}.db`, `${name}.ini`);
    const site = await serve(path);
    await test(`/api/day and /api/cost give the JSON of day and cost, ${name}`, async () => {
      const ids = [...houseText(path).matchAll(/^\[tariff (.*)\]$/gm)].map((found) => found[1]);
      const moved = shift ?? /^\[appliance (\S+)\]\n(?:(?!\n\[)[^])*?^use = /m.exec(houseText(path))[1];
      await sameAsCommands(site, path, tariff ?? [ids[0], ids[ids.length - 1]], moved);
    });
    await test(`the day in the command's figures and words, without a script, ${name}`, async () => {
      const page = await visit(site, { javaScriptEnabled: false });
      for (const branch of json("day", path).branches) {
        await page.goto(`${site.base}/cost/day?of=${branch.id}`);
        const text = plain(await page.locator("main").innerText());
        for (const part of [`Busiest: ${branch.busiest.start}-${branch.busiest.end}, planning ${fixed(branch.busiest.planning_a, 2)} A`,
          `above the rating: ${Math.floor(branch.over_rating_h + 1e-9)} h`, `Energy of that day: ${fixed(branch.energy_kwh, 2)} kWh`, odds(path, branch.id)]) {
          check(text.includes(part), `${branch.id}: ${part} in ${text}`);
        }
        check((await page.locator("main details", { hasText: "What this assumes" }).textContent()).includes("Independence ignores that meals and cold evenings bring loads together"), "folded");
        const rows = await page.locator("table tbody tr").allTextContents();
        same(rows, branch.stretches.map((one) => one.start + one.end + fixed(one.current_a, 2) + fixed(one.planning_a, 2)), `${branch.id}: the course`);
        same(await page.locator(".picture svg title, .picture svg [role=img], .picture svg[role=img]").count() > 0, true, "picture");
      }
      await page.context().close();
    });
    await site.stop();
  }
}

async function chooseTests(site, path) {
  await test("branch, day and month are chosen by keyboard; the whole house leads on to each branch", async () => {
    const page = await visit(site);
    await page.goto(site.base + "/cost");
    await page.getByRole("link", { name: "The course of a day" }).click();
    same(await page.locator("tbody tr").count(), json("day", path).branches.length + json("day", path).panels.length, "rows");
    await page.locator("select[name=of]").selectOption("bedroom");
    await page.locator("select[name=day]").selectOption("sat");
    await page.locator("select[name=month]").selectOption("jan");
    await page.getByRole("button", { name: "Show the day" }).focus();
    await page.keyboard.press("Enter");
    await page.waitForURL(/of=bedroom&day=sat&month=jan/);
    const want = json("day", path, "bedroom", "--day=sat", "--month=jan").branches[0];
    check((await page.locator("main").innerText()).includes(`planning ${fixed(want.busiest.planning_a, 2)} A`), "planning current");
    same(await page.locator("select[name=day]").inputValue(), "sat", "the choice stays");
    await page.goto(site.base + "/cost/day?day=weekend");
    await page.getByText("Branches and panels, each in figures").click();
    await page.getByRole("link", { name: "Large bedroom outlets" }).click();
    same(await page.locator("h1").innerText(), "The day: Large bedroom outlets", "led on");
    same(await page.locator("select[name=day]").inputValue(), "weekend", "for the same days");
    await page.goto(site.base + "/cost/day?of=main");
    same(await page.locator("h2").allInnerTexts(), ["Leg A", "Leg B", "Cautions"], "a panel leg by leg");
    same(page.faults, [], "faults");
    await page.context().close();
  });
  await test("the cost page shows the figures of cost: tariffs, standby, wires, another time", async () => {
    const page = await visit(site, { javaScriptEnabled: false });
    await page.goto(site.base + "/cost?tariff=flat&move=dryer&start=22:30");
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
    const text = plain(await page.locator("main").innerText());
    const year = json("cost", path, "--tariff=flat");
    const parts = [year.year.cost, year.year.standing_cost, year.year.energy_cost, year.year.tax];
    for (const rows of [json("cost", path, "--tariff=flat", "--standby").rows, json("cost", path, "--tariff=flat", "--shift=dryer=22:30").rows]) {
      for (const row of rows) { parts.push(plain(`${row.what} ${fixed(row.kwh, 1)} ${fixed(row.kwh_then, 1)} ${row.cost} ${row.cost_then} ${row.difference}`)); }
    }
    const loss = json("cost", path, "--tariff=flat", "--loss").rows[0];
    parts.push(`the wires lose ${fixed(loss.kwh_then, 1)} kWh a year: ${loss.cost_then} USD`);
    for (const month of year.months) { parts.push(`${fixed(month.kwh, 1)} ${month.cost}`); }
    for (const row of [...year.appliances, ...year.rooms, ...year.branches]) {
      if (row.kwh_year > 0) { parts.push(fixed(row.kwh_year, 1), row.cost_year); }
    }
    for (const one of json("cost", path, "--tariff=flat", "--tariff=evening-peak").tariffs) { parts.push(`${one.year.energy_cost} ${one.year.standing_cost} ${one.year.tax} ${one.year.cost}`); }
    for (const part of parts) { check(text.includes(part), `${part} in ${text}`); }
    await page.context().close();
  });
  await test("a day, month, branch, tariff or time that is none: a page that says what is allowed", async () => {
    for (const [where, word] of [["cost/day?day=friday", "weekday, weekend or mon to sun"], ["cost/day?month=13", "jan to dec"], ["cost/day?of=bedrom", "bedroom"],
      ["cost/day?on-date=02-30", "MM-DD or YYYY-MM-DD"], ["cost/day?on-date=01-01&day=mon", "stands alone"], ["cost?tariff=flatt", "flat"],
      ["cost?move=dryer&start=25:00", "HH:MM"], ["cost?move=dryer", "HH:MM"], ["cost?move=no-such&start=10:00", "no-such"], ["cost?shift=%3Cb%3E", "HH:MM"],
      ["cost/day?of=%00", ""], ["cost/day?on-date=-1e999", "MM-DD"]]) {
      const page = await raw(site, { path: `/${where}` });
      check(page.status >= 400 && page.status < 500 && page.body.includes(word), `${where}: ${page.status} ${page.body.slice(0, 800)}`);
      const api = await raw(site, { path: `/api/${where.replace("cost/day", "day")}` });
      check(api.status >= 400 && api.status < 500, `/api/${where}: ${api.status}`);
      if (word !== "") { check(JSON.parse(api.body).error.includes(word), `/api/${where}: ${api.body}`); }
    }
    same((await raw(site, { path: "/cost" })).status, 200, "goes on");
  });
}

// The files of an archive whose files are stored as they are.
function unzip(bytes) {
  const files = {};
  let at = bytes.length - 22;
  same(bytes.readUInt32LE(at), 0x06054b50, "end of the list");
  const count = bytes.readUInt16LE(at + 10);
  at = bytes.readUInt32LE(at + 16);
  for (let i = 0; i < count; i++) {
    same(bytes.readUInt32LE(at), 0x02014b50, "a line of the list");
    const [sum, size, name] = [bytes.readUInt32LE(at + 16), bytes.readUInt32LE(at + 24), bytes.toString("utf8", at + 46, at + 46 + bytes.readUInt16LE(at + 28))];
    const start = bytes.readUInt32LE(at + 42);
    same(bytes.readUInt32LE(start), 0x04034b50, `head of ${name}`);
    const from = start + 30 + bytes.readUInt16LE(start + 26) + bytes.readUInt16LE(start + 28);
    files[name] = bytes.subarray(from, from + size);
    same(crc(files[name]), sum, `sum of ${name}`);
    at += 46 + name.length;
  }
  return files;
}

// CRC-32 by its table, another way than the program's.
function crc(bytes) {
  const table = [...Array(256).keys()].map((n) => { for (let i = 0; i < 8; i++) { n = n & 1 ? n >>> 1 ^ 0xedb88320 : n >>> 1; } return n >>> 0; });
  return (bytes.reduce((sum, byte) => table[(sum ^ byte) & 255] ^ sum >>> 8, 0xffffffff) ^ 0xffffffff) >>> 0;
}

async function get(page, address) {
  const got = await page.request.get(address);
  return { status: got.status(), head: got.headers(), body: await got.body() };
}

async function lessonTests(site, path) {
  const query = "students=3&seed=11&level=2&questions=&kind=unequal&kind=trip";
  const words = ["--students=3", "--seed=11", "--level=2", "--kind=unequal", "--kind=trip", "--together"];
  await test("worksheets and key come from the form, as `lesson` writes them, and nothing of the house changes", async () => {
    const folder = mkdtempSync(join(scratch, "lesson-"));
    ampsum("lesson", path, "-o", folder, ...words);
    const before = houseText(path);
    const page = await visit(site, { acceptDownloads: true });
    await page.goto(site.base + "/files");
    await page.getByLabel("Students").fill("3");
    await page.getByLabel("Set: another").fill("11");
    await page.getByLabel("Level").fill("2");
    await page.getByText("Kinds of questions").first().click();
    await page.locator("input[value=unequal]").check();
    await page.locator("input[value=trip]").check();
    for (const [button, file] of [["Worksheets (PDF)", "worksheets.pdf"], ["Their key (PDF)", "key.pdf"]]) {
      const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: button }).click()]);
      same(download.suggestedFilename(), file, "name");
      check(readFileSync(await download.path()).equals(readFileSync(join(folder, file))), `${file} as the command writes it`);
    }
    const files = unzip((await get(page, `${site.base}/files/lesson.zip?${query}`)).body);
    same(Object.keys(files).sort(), readdirSync(folder).map((name) => `lesson/${name}`).sort(), "the whole folder");
    for (const name of readdirSync(folder)) { check(files[`lesson/${name}`].equals(readFileSync(join(folder, name))), name); }
    same(houseText(path), before, "the house");
    same(page.faults, [], "faults");
    await page.context().close();
  });
  await test("all kinds of questions at once, and a kind asked for over and over", async () => {
    const page = await visit(site);
    await page.goto(site.base + "/files");
    const kinds = await page.locator("input[name=kind]").evaluateAll((all) => all.map((one) => one.value));
    const folder = mkdtempSync(join(scratch, "kinds-"));
    const key = (query) => get(page, `${site.base}/files/lesson.zip?level=4&questions=20&${query}`).then((got) => unzip(got.body)["lesson/key.txt"]);
    ampsum("lesson", path, "-o", folder, "--level=4", "--questions=20", `--kind=${kinds.join(",")}`, "--together");
    check((await key(kinds.map((kind) => `kind=${kind}`).join("&"))).equals(readFileSync(join(folder, "key.txt"))), "all of them");
    ampsum("lesson", path, "-o", folder, "--level=4", "--questions=20", "--kind=trip", "--together", "--force");
    check((await key("kind=trip&".repeat(200))).equals(readFileSync(join(folder, "key.txt"))), "one, 200 times");
    await page.context().close();
  });
  await test("an unpacked lesson can be marked", async () => {
    const page = await visit(site);
    const folder = mkdtempSync(join(scratch, "unpacked-"));
    for (const [name, bytes] of Object.entries(unzip((await get(page, `${site.base}/files/lesson.zip?${query}`)).body))) {
      writeFileSync(join(folder, name.slice("lesson/".length)), bytes);
    }
    const marked = ampsum("mark", folder, join(folder, "answers.csv"));
    check(marked.length > 50, marked);
    await page.context().close();
  });
  await test("what came back is marked on the page, point by point as the command marks it", async () => {
    const folder = mkdtempSync(join(scratch, "marked-"));
    ampsum("lesson", path, "-o", folder, ...words);
    const [head, ...rows] = readFileSync(join(folder, "answers.csv"), "utf8").trim().split("\n");
    const key = readFileSync(join(folder, "key-short.txt"), "utf8");
    check(key.length > 100, "a key");
    const filled = rows.map((row, i) => { const cells = row.split(","); cells[5] = ["2 A", "60 ohm", "twelvish", ""][i % 4]; return cells.join(","); });
    const file = join(folder, "filled.csv");
    writeFileSync(file, [head, ...filled].join("\n") + "\n");
    const want = JSON.parse(ampsum("mark", folder, file, "--format=json"));
    const page = await visit(site);
    await page.goto(`${site.base}/files`);
    await page.getByLabel("Students").fill("3");
    await page.getByLabel("Set: another").fill("11");
    await page.getByLabel("Level").fill("2");
    await page.getByText("Kinds of questions").first().click();
    await page.locator("input[value=unequal]").check();
    await page.locator("input[value=trip]").check();
    await page.getByRole("button", { name: "Mark what came back" }).click();
    same([await page.getByLabel("Students").inputValue(), await page.locator("input[value=trip]").isChecked()], ["3", true], "the entries go along");
    await page.getByLabel("Answers").fill(readFileSync(file, "utf8"));
    await page.getByRole("button", { name: "Mark them" }).click();
    await page.getByRole("heading", { name: "A class, marked" }).waitFor({ timeout: 5000 }).catch(async () => { throw new Error(await page.locator("main").innerText()); });
    const table = (caption) => page.locator(`table:has(caption:text-is("${caption}"))`);
    const cells = async (caption) => table(caption).locator("tbody tr").evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.innerText.trim())));
    const points = await cells("Points");
    same(points.map((row) => row[0]), want.students.map((one) => String(one.student)), "students");
    same(points.map((row) => row[2]), want.students.map((one) => one.to_decide > 0 ? `${one.points} to ${one.points_possible}` : String(one.points)), "points");
    same((await cells("The class, part by part")).map((row) => row.slice(2, 7).map(Number)), want.summary.map((one) => [one.right, one.carried, one.wrong, one.empty, one.decide]), "parts");
    await page.locator("summary", { hasText: "Every answer" }).click();
    same((await cells("Every answer")).map((row) => row[4]), want.students.flatMap((one) => one.answers.map((answer) => answer.verdict)), "verdicts");
    check(want.students.some((one) => one.to_decide > 0) && /nobody can read but you/.test(await page.locator("main").innerText()), "what is left to decide");
    same(await axe(page), [], "axe");
    await page.setViewportSize({ width: 360, height: 900 });
    same(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth) > 0, false, "too wide");
    await page.getByLabel("Answers").fill("student,question,part,answer\n");
    await page.getByRole("button", { name: "Mark them" }).click();
    check(/No answer could be placed/.test(await page.locator("[role=alert]").innerText()), "nothing to mark");
    same(page.faults.filter((fault) => !/422/.test(fault)), [], "faults");
    await page.context().close();
  });
  await test("a lesson out of its limits is refused with them, and all limits can be met", async () => {
    for (const [bad, word] of [["students=0", "1 to 40"], ["students=41", "1 to 40"], ["students=-1", "1 to 40"], ["students=99999999999999999999", "1 to 40"],
      ["level=5", "1 to 4"], ["seed=x", "whole number"], ["questions=21", "1 to 20"], ["kind=unequl", "unequal"], ["kind=", "unequal"]]) {
      const got = await raw(site, { path: `/files/lesson.zip?${bad}` });
      same(got.status, 422, bad);
      check(got.body.includes(word), `${bad}: ${got.body.slice(0, 500)}`);
    }
    const page = await visit(site);
    for (const [most, sheets] of [["students=40&questions=1&level=4&seed=0", 40], ["students=1&questions=20&seed=9223372036854775807", 1]]) {
      const got = await get(page, `${site.base}/files/lesson.zip?${most}`);
      same(got.status, 200, most);
      const names = Object.keys(unzip(got.body));
      for (const ending of ["txt", "html"]) {
        same(names.filter((name) => name.startsWith("lesson/worksheet-") && name.endsWith("." + ending)).length, sheets, `${most} ${ending}`);
      }
    }
    await page.context().close();
  });
}

async function downloadTests(site, path) {
  await test("every download is what its command gives", async () => {
    const page = await visit(site);
    await page.goto(site.base + "/files");
    const names = await page.locator(".plain a").evaluateAll((links) => links.map((link) => link.getAttribute("href").slice("/files/".length)));
    same(names.length, 10, "rows");
    const commands = { "branches.csv": ["check"], "day.csv": ["day"], "cost.csv": ["cost", "--all"], "demand.csv": ["demand", "--working"] };
    for (const name of names) {
      const got = await get(page, `${site.base}/files/${name}`);
      same([got.status, got.head["content-disposition"]], [200, `attachment; filename="${name}"`], name);
      if (name === "house.ini") { same(got.body.toString(), houseText(path), name); continue; }
      if (commands[name]) { same(got.body.toString(), ampsum(commands[name][0], path, ...commands[name].slice(1), "--format=csv"), name); continue; }
      if (name === "report.html" || name === "report.svg") {
        const file = join(scratch, `own-${name}`);
        ampsum("report", path, "-o", file, "--force");
        same(got.body.toString(), readFileSync(file, "utf8"), `${name} as the command writes it`);
        continue;
      }
      const start = { pdf: "%PDF-", png: "\x89PNG", svg: "<", html: "<!" }[name.split(".")[1]];
      check(got.body.toString("latin1").startsWith(start) && got.body.length > 1000, `${name}: ${got.body.subarray(0, 40)}`);
    }
    same((await raw(site, { path: "/files/..%2fhouse.db" })).status, 404, "nothing else");
    await page.context().close();
  });
  await test("without the drawing program a page says so, and the rest goes on", async () => {
    const folder = mkdtempSync(join(scratch, "bare-"));
    mkdirSync(join(folder, "bin"));
    for (const name of ["ampsum", "ampsum-serve"]) { copyFileSync(join(dirname(program), name), join(folder, "bin", name)); }
    check(!existsSync(join(folder, "bin", "ampsum-draw")), "no drawing program");
    // One that is installed is found, too: the copy looks for it in a folder of the same length that is not there.
    const settings = readFileSync(join(dirname(program), "config.h"), "utf8");
    const folders = /AMPSUM_LIBEXEC "(.+)"/.exec(settings)[1];
    const bytes = readFileSync(program, "latin1");
    check(bytes.includes(folders), "where an installed one is looked for");
    writeFileSync(join(folder, "bin", "ampsum"), bytes.replaceAll(folders, "/nowhere".padEnd(folders.length, "-").slice(0, folders.length)), "latin1");
    const bare = await serveBy(join(folder, "bin", "ampsum"), path);
    for (const file of ["report.pdf", "worksheets.pdf", "lesson.zip"]) {
      const got = await raw(bare, { path: `/files/${file}` });
      same(got.status, 503, file);
      check(got.body.includes("ampsum-draw") && !/attachment/.test(got.head), got.head + got.body.slice(0, 600));
    }
    for (const file of ["house.ini", "report.html", "report.svg"]) { same((await raw(bare, { path: `/files/${file}` })).status, 200, file); }
    await bare.stop();
  });
}

async function lookTests(site) {
  for (const colorScheme of ["light", "dark"]) {
    await test(`day, cost and downloads: axe, no sideways scrolling, ${colorScheme}`, async () => {
      const page = await visit(site, { bypassCSP: true, colorScheme });
      const found = [];
      for (const path of pages) {
        for (const width of [360, 1280, 1920]) {
          await page.setViewportSize({ width, height: 900 });
          await page.goto(site.base + path);
          if (shots) {
            mkdirSync(shots, { recursive: true });
            await page.screenshot({ path: join(shots, `${path.replace(/[^a-z]+/g, "-")}-${colorScheme}-${width}.png`), fullPage: true });
          }
          await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
          const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
          if (wide > 0) { found.push(`${path} at ${width}: ${wide} px`); }
        }
        found.push(...(await axe(page)).map((line) => `${path}: ${line}`));
      }
      same(found, [], "violations");
      await page.context().close();
    });
  }
}

// Houses at the edges: nothing in it, no tariff, nothing with times, 300 appliances.
function edgeHouse(name, text) {
  const file = join(scratch, `${name}.ini`);
  writeFileSync(file, text);
  return file;
}

function many() {
  const lines = ["[house]", "name = Long row", "rules = iec", "system = three-phase", "main_breaker = 63 A", "[tariff t]", "price = 0.15", "[room r]", "name = Hall"];
  for (let i = 0; i < 50; i++) {
    lines.push(`[branch b-${i}]`, `label = Branch number ${i} with a rather long label`, "breaker = 16 A", `legs = ${"ABC"[i % 3]}`, "wire = 2.5 mm2 copper", "length = 20 m");
    for (let j = 0; j < 6; j++) {
      lines.push(`[appliance a-${i}-${j}]`, `name = Appliance ${j} of branch ${i}`, `branch = b-${i}`, "room = r", `power = ${100 + 37 * j + i} W`,
        `use = ${String(6 + j).padStart(2, "0")}:${String(i).padStart(2, "0")}-${String(7 + j).padStart(2, "0")}:10`);
    }
  }
  return lines.join("\n") + "\n";
}

async function edgeTests() {
  const houses = {
    empty: "[house]\nname = Bare walls\nrules = us\nmain_breaker = 100 A\n",
    "no-tariff": "[house]\nname = No price\nrules = uk\nmain_breaker = 100 A\n[branch b]\nlabel = B\nbreaker = 16 A\n[appliance a]\nname = A\nbranch = b\npower = 900 W\n"
      + "use = 07:00-07:10\n[appliance c]\nname = C\nbranch = b\npower = 2 kW\n",
    "no-times": "[house]\nname = No times\nrules = us\nmain_breaker = 100 A\n[tariff x]\nprice = 0.1\n[tariff y]\nprice = 0.2\n[branch b]\nlabel = B\n"
      + "breaker = 15 A\nlegs = A\n[appliance a]\nname = A\nbranch = b\npower = 900 W\n",
    many: many(),
  };
  for (const [name, text] of Object.entries(houses)) {
    await test(`day and cost of a house at the edge: ${name}`, async () => {
      const file = edgeHouse(name, text);
      const site = await serve(file);
      const page = await visit(site);
      const panel = json("day", file).panels[0].id;
      for (const where of ["/cost", "/cost/day", `/cost/day?of=${panel}`, ...(name === "empty" ? [] : [`/cost/day?of=${json("check", file).branches[0].id}`]), "/files"]) {
        const begun = Date.now();
        const got = await page.goto(site.base + where);
        same(got.status(), 200, where);
        if (name === "many") { console.log(`# ${where}: ${Date.now() - begun} ms, ${(await page.content()).length} characters`); }
        await page.setViewportSize({ width: 360, height: 900 });
        same(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth) > 0, false, `${where}: too wide`);
        check(!/NaN|nan|undefined|null|inf\b/.test(await page.locator("main").innerText()), `${where}: ${await page.locator("main").innerText()}`);
        if (shots) { await page.screenshot({ path: join(shots, `edge-${name}${where.replace(/[^a-z]+/g, "-")}.png`), fullPage: true }); }
      }
      same(await answer(site, "/api/day"), json("day", file), "day");
      same(await answer(site, "/api/cost"), json("cost", file), "cost");
      await page.goto(site.base + "/cost");
      const shown = await page.locator("main").innerText();
      check(/no tariff, so no price|no price, since none of the tariffs is chosen/.test(shown) === (json("cost", file).year.cost === null), shown);
      same(shown.includes("Money in"), json("cost", file).year.cost !== null, "money where there is a price");
      same(shown.includes("By month"), json("cost", file).year.kwh > 0, "months where there is energy");
      if (name === "no-times") {
        await page.goto(site.base + "/cost/day?of=b");
        check((await page.locator("main").innerText()).includes("not known"), "no odds are made up");
      }
      same(page.faults, [], "faults");
      await page.context().close();
      await site.stop();
    });
  }
}

export async function day() {
  const path = database("day.db");
  const site = await serve(path);
  await figureTests();
  await chooseTests(site, path);
  await downloadTests(site, path);
  await lessonTests(site, path);
  await lookTests(site);
  await edgeTests();
  await test("after all that the served house stops cleanly", async () => { same(await site.stop(), 0, "status"); });
}
