// Each view as a person meets it: figures as the commands give them, keyboard, access, sizes, names as text.
import { readFileSync, writeFileSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { ampsum, axe, check, database, demo, json, post, raw, same, saysFinding, scratch, secrets, serve, shots, terminalWord, test, visit } from "./lib.mjs";

const pages = ["/", "/demand", "/demand?add=Car+charger,+48+A,+240+V&remove=vehicle-charger&setpoint=160&kwh=30", "/?order=space", "/settle", "/combos/bedroom", "/appliance?ask=1&what=Heater,+1500+W&room=bedroom", "/fault", "/fault/bedroom",
  "/cost/day?of=bedroom", "/branch/bedroom", "/class", "/class/bedroom?on=bedroom-heater&shown=99",
  "/appliance?what=Heater&rating=1500&unit=W&room=bedroom", "/appliance?what=Heater&rating=1500&unit=W&at=outlet:bd-1",
  "/cost?branch=bedroom", "/files", "/build", "/changes",
  "/solve?source=60+V&circuit=8+%2B+(20+|+30)&open=R2", "/estimate?load=Heater,+1500+W&load=3+x+lamp+60+W&breaker=15", "/start"];

const fixed = (value, decimals) => value === null ? "-" : (Math.round(value * 10 ** decimals + 1e-9) / 10 ** decimals).toFixed(decimals);

async function figureTests(site, path) {
  await test("JSON answers are those of the commands", async () => {
    const load = ["--add=Heater, 1500 W", "--outlet=bd-1"];
    const pairs = [
      ["/api/check", json("check", path)],
      ["/api/branch/bedroom", json("branch", path, "bedroom")],
      ["/api/cost", json("cost", path)],
      ["/api/demand?add=Car+charger,+48+A,+240+V&remove=vehicle-charger", json("demand", path, "--add=Car charger, 48 A, 240 V", "--remove=vehicle-charger")],
      ["/api/place?what=Heater&rating=1500&unit=W&room=bedroom", json("place", path, "Heater, 1500 W", "--room=bedroom")],
      ["/api/try?what=Heater&rating=1500&unit=W&at=outlet:bd-1", json("try", path, ...load)],
    ];
    for (const [address, want] of pairs) { same(JSON.parse((await raw(site, { path: address })).body), want, address); }
    const switched = JSON.parse((await raw(site, { path: "/api/check?on=kettle,bed-lamps*1" })).body);
    delete switched.now;
    same(switched, json("check", path, "--on=kettle,bed-lamps*1"), "chosen set");
    const scene = JSON.parse((await raw(site, { path: "/api/check?scene=breakfast" })).body);
    delete scene.now;
    same(scene, json("check", path, "--scene=breakfast"), "scene");
  });
  await test("whether the service carries it is one sentence, with the figures of the command behind it", async () => {
    const asked = "add=Car+charger,+48+A,+240+V&remove=vehicle-charger";
    const want = json("demand", path, "--add=Car charger, 48 A, 240 V", "--remove=vehicle-charger");
    const page = await visit(site, { javaScriptEnabled: false });
    await page.goto(site.base + "/demand?" + asked);
    const sentence = await page.locator("p.answer").innerText();
    check(/^Ask first: .*220\.83.* comes to 115\.3 A on a service of 200 A.*\.$/.test(sentence), sentence);
    same(await page.locator("main details[open]").count(), 0, "what is folded");
    const text = await page.locator("main").evaluate((main) => main.textContent);
    for (const method of want.methods.filter((one) => one.applies)) {
      for (const part of [method.method, fixed(method.total_va, 0), fixed(method.current_a, 1)]) { check(text.includes(part), part); }
    }
    for (const finding of want.findings) { saysFinding(text, finding); }
    const wrong = await raw(site, { path: "/demand?measured=80" });
    check(wrong.body.includes('role="alert"') && wrong.body.includes("W, kW, VA, kVA or A"), "a figure without its unit");
    const none = await raw(site, { path: "/demand?setpoint=900" });
    check(none.body.includes('role="alert"') && none.body.includes("setpoint"), "a set-point above the service");
    same((await raw(site, { path: "/demand/service.pdf?" + asked })).status, 200, "the page on paper");
    same((await raw(site, { path: "/demand/other.pdf" })).status, 404, "no other file");
    await page.context().close();
  });
  await test("the house view shows the figures of check, without a script", async () => {
    const page = await visit(site, { javaScriptEnabled: false });
    const want = json("check", path);
    const scene = json("check", path, "--scene=cold-evening");
    await page.goto(site.base + "/?scene=cold-evening");
    for (const [i, branch] of want.branches.entries()) {
      const text = await page.locator(`[data-branch="${branch.id}"]`).evaluate((row) => row.textContent);
      const expected = [branch.label, fixed(branch.busiest.planning_a, 1), fixed(branch.all.planning_a, 1),
        fixed(branch.all.headroom_a, 1), fixed(scene.branches[i].scene.current_a, 1)];
      for (const part of expected) { check(text.includes(part), `${branch.id}: ${part} in ${text}`); }
      check(text.toLowerCase().replace("-", " ").includes((branch.status === "ok" ? "room" : branch.status).replace("-", " ")), `${branch.id}: ${branch.status} in ${text}`);
    }
    await page.context().close();
  });
  await test("the branch view shows loads, junctions, findings with sources and steps, without a script", async () => {
    const page = await visit(site, { javaScriptEnabled: false });
    const want = json("branch", path, "bedroom");
    await page.goto(site.base + "/branch/bedroom");
    check(/^OVER\s+With everything on 25\.4 A, 10\.4 A over its breaker of 15 A/.test(await page.locator("p.answer").innerText()), "the verdict first");
    check((await page.locator("p.todo").innerText()).startsWith("Not together: Portable heater and Hair dryer."), "what to do");
    same(await page.locator("main details[open]").count(), 0, "the working is folded");
    const text = (await page.locator("main").evaluate((main) => main.textContent)).replace(/\s+/g, " ");
    for (const load of want.loads) {
      check(text.includes(load.name) && text.includes(fixed(load.current_a, 2)), `${load.name} ${load.current_a}`);
    }
    for (const finding of want.findings) {
      saysFinding(text, finding);
    }
    const working = ampsum("branch", path, "bedroom", "--working");
    const steps = await page.locator(".steps li").allTextContents();
    check(steps.length > 10 && /I = P \/ V = 1500 W \/ 120 V = 12.5 A/.test(steps.join("\n")), steps.join("\n"));
    check(working.includes("1500 W / 120 V = 12.5 A"), "as the command says it");
    const said = (await page.locator(".circuit text").allTextContents()).join("\n");
    check(said.includes(`${fixed(want.all.current_a, 2)} A`), "behind the breaker");
    same(await page.locator(".circuit g > desc").count(), want.loads.length, "a rung for each load");
    const wire = json("wire", path, "bedroom").branches[0];
    for (const outlet of wire.outlets) { check(text.includes(fixed(outlet.voltage_v, 2)), `${outlet.id} ${outlet.voltage_v}`); }
    await page.context().close();
  });
}

// Pixels of the page at 360 px of width, as it opens: no more than so many screens of a telephone.
const lengths = { "/fault": 1000, "/fault/bedroom": 1300, "/branch/bedroom": 3200, "/branch/ring-down": 3000, "/cost": 3000,
  "/cost/day": 1500, "/files": 1800, "/demand": 1400, "/build/appliances": 3400, "/branch/none": 1500 };

async function lengthTests() {
  await test("what a telephone shows of a view is short, with words first and figures folded", async () => {
    const found = [];
    for (const from of ["us.ini", "uk.ini", "iec.ini"]) {
      const site = await serve(demo(from));
      const page = await visit(site, { viewport: { width: 360, height: 640 } });
      for (const [path, most] of Object.entries(lengths)) {
        const answer = await page.goto(site.base + path);
        const height = await page.evaluate(() => document.documentElement.scrollHeight);
        if (answer.status() < 500 && height > most) { found.push(`${from} ${path}: ${height} px, at most ${most}`); }
      }
      await page.context().close();
      await site.stop();
    }
    same(found, [], "too long");
  });
  await test("the day of the house is a sentence in whole words, and its pictures have the ground of the page", async () => {
    const site = await serve(demo("us.ini"));
    const page = await visit(site, { colorScheme: "dark", javaScriptEnabled: false });
    await page.goto(site.base + "/cost/day");
    const sentence = await page.locator("p.answer").innerText();
    check(/^Above the rating: Large bedroom outlets with 22\.5 A of 15 A, Monday in January, 06:50\.$/.test(sentence), sentence);
    const cells = await page.locator("main tbody tr").evaluateAll((rows) => rows.map((row) => row.cells[1].textContent));
    check(cells.length === 31 && cells.every((cell) => cell === "-" || /^([A-Z][a-z]+day in [A-Z][a-z]+, (\d\d:\d\d|all day)|at any time)$/.test(cell)), cells.join("; "));
    await page.goto(site.base + "/cost/day?of=bedroom");
    same(await page.locator(".picture").first().evaluate((one) => [getComputedStyle(one).backgroundColor, getComputedStyle(one).color === getComputedStyle(document.body).color]),
      ["rgba(0, 0, 0, 0)", true], "dark lines on white in a dark page");
    await page.context().close();
    await site.stop();
  });
  await test("on a wide screen a branch is one line: verdict, bar, what to do, a figure; the others unfold with its switches", async () => {
    const site = await serve(demo("us.ini"));
    const page = await visit(site, { viewport: { width: 1280, height: 720 } });
    await page.goto(site.base + "/");
    const rows = await page.locator("li.branch").evaluateAll((all) => all.map((row) => row.getBoundingClientRect().height));
    check(rows.length === 27 && rows.every((height) => height < 60), rows.join(" "));
    const row = page.locator('[data-branch="bedroom"]');
    same(await row.getByText("Headroom").isVisible(), false, "folded");
    await row.locator("summary").click();
    check(await row.getByText("Headroom").isVisible(), "unfolded");
    await page.context().close();
    await site.stop();
  });
  await test("on a telephone no figure and no name of a list is broken in the middle", async () => {
    const site = await serve(database("broken.db"));
    const page = await visit(site, { viewport: { width: 360, height: 640 } });
    await page.goto(site.base + "/?scene=cold-evening");
    const figures = await page.locator(".branch .brief.live").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height).filter((height) => height > 0));
    check(figures.length >= 27 && figures.every((height) => height < 32), figures.join(" "));
    await page.goto(site.base + "/build/scenes");
    const ticks = await page.locator('.ticks.wide .tick:has(input[type="number"])').evaluateAll((all) => all.map((one) => one.getBoundingClientRect().width));
    check(ticks.length >= 8 && ticks.every((width) => width > 200), ticks.join(" "));
    same(await page.evaluate(() => document.documentElement.scrollWidth), 360, "no sideways scrolling");
    await page.context().close();
    await site.stop();
  });
  await test("a branch that is over by a danger alone says so, and has no sets to leave off", async () => {
    const path = database("danger.db", "iec.ini");
    const living = json("branch", path, "living");
    check(living.status === "over" && living.all.planning_a < 16 && living.findings.some((one) => one.severity === "danger"), "the demo's own");
    const site = await serve(path);
    const page = await visit(site, { javaScriptEnabled: false });
    await page.goto(site.base + "/branch/living");
    check((await page.locator("p.todo").innerText()).startsWith("Not by its loads, but by a danger that was found"), "why");
    check(!(await page.locator('p[role="status"]').innerText()).includes("OVER"), "its current is not over");
    await page.goto(site.base + "/combos/living");
    check(!(await page.locator("main").innerText()).includes("Leave one load"), "nothing to leave off");
    await page.goto(site.base + "/build/house");
    const usual = (await page.locator("option").allInnerTexts()).filter((one) => /usual.*;/.test(one));
    same(usual, [], "what is usual elsewhere");
    await page.context().close();
    await site.stop();
  });
  await test("what is not in the house is refused by names that lead on, not by IDs", async () => {
    const path = database("names.db");
    const site = await serve(path);
    const page = await visit(site, { javaScriptEnabled: false });
    const branches = json("check", path).branches;
    for (const route of ["/branch/", "/class/", "/fault/", "/combos/"]) {
      same((await page.goto(site.base + route + "none")).status(), 404, route);
      same(await page.locator("main li a").allInnerTexts(), branches.map((branch) => branch.label), route);
      same(await page.locator("main li a").first().getAttribute("href"), route + branches[0].id, route);
      check((await page.locator("main").innerText()).startsWith("Not in this house\n\nNo branch here is known as “none”."), route);
    }
    const back = await raw(site, { path: "/build/add" });
    check(back.status === 405 && back.body.includes("press its button") && back.body.includes("<nav"), "a form's address, asked for");
    await page.context().close();
    await site.stop();
  });
  await test("whether a device opens is said in a sentence; a house without a known supply is told whom to ask, without a table", async () => {
    for (const [from, said] of [["us.ini", /can't be said: ask the utility for the fault current/], ["iec.ini", /can't be said: a licensed electrician measures the loop/],
      ["uk.ini", /^At all 16 points the breaker opens at once\. The least current is 13\.2 times the rating of its device, on Ring downstairs at Boiler, fused spur\./]]) {
      const path = database(`fault-${from}`, from);
      const site = await serve(path);
      const page = await visit(site, { javaScriptEnabled: false });
      await page.goto(site.base + "/fault");
      const sentence = await page.locator("p.answer").innerText();
      check(said.test(sentence), sentence);
      const points = json("fault", path).branches.flatMap((branch) => branch.points);
      const least = points.map((point) => point.times_breaker).filter((times) => times !== null).sort((a, b) => a - b)[0];
      if (least === undefined) {
        check(!(await page.locator("main").evaluate((main) => main.textContent)).includes("Loops and currents"), "no table of dashes");
        same(await page.locator("p.answer a").getAttribute("href"), "/build/house", "where to say it");
      } else {
        check(sentence.includes(` ${least.toFixed(1)} times`), `${from}: ${least}`);
      }
      const names = (await page.locator("main tbody th").allTextContents()).filter((name) => json("fault", path).branches.some((branch) => branch.id === name));
      same(names, [], "IDs where names stand");
      await page.context().close();
      await site.stop();
    }
  });
}

async function freshTests() {
  await test("what the command line changes shows at the next look", async () => {
    const path = database("fresh.db");
    const site = await serve(path);
    const look = async () => JSON.parse((await raw(site, { path: "/api/check" })).body);
    const before = json("check", path);
    same([await look(), await look()], [before, before], "twice the same");
    for (const power of ["1000 W", "1100 W", "1000 W"]) {
      ampsum("set", path, "appliance", "kettle", `power=${power}`);
      const after = json("check", path);
      same(await look(), after, power);
      check(JSON.stringify(after) !== JSON.stringify(before), "another answer");
    }
    await site.stop();
  });
}

async function switchTests(site, path) {
  await test("a switch on the house view is followed at once, by mouse and by keyboard", async () => {
    const page = await visit(site);
    const row = page.locator('[data-branch="bedroom"]');
    await row.locator("summary").click();
    await row.locator('input[value="bedroom-heater"]').check();
    await page.waitForFunction(() => document.querySelector('[data-branch="bedroom"] [data-figure="now"]').textContent === "12.5");
    await row.locator('input[value="hair-dryer-bedroom"]').focus();
    await page.keyboard.press("Space");
    await page.waitForFunction(() => document.querySelector('[data-branch="bedroom"] [data-figure="now"]').textContent === "22.5");
    const want = json("check", path, "--on=bedroom-heater,hair-dryer-bedroom");
    const power = want.branches.reduce((sum, branch) => sum + branch.scene.power_w, 0);
    same(await page.locator("#now-power").innerText(), fixed(power, 0), "power");
    same(await row.locator('[data-figure="now-word"]').innerText(), "OVER", "the word");
    check(Number(await page.locator("#now-cost").innerText()) > 0, "cost an hour");
    same(page.faults, [], "faults");
    await page.context().close();
  });
  await test("a switch on the branch view redraws the circuit and keeps the focus", async () => {
    const page = await visit(site);
    await page.goto(site.base + "/branch/bedroom");
    const off = () => [...document.querySelectorAll(".circuit g > desc")].filter((one) => one.textContent === "off").length;
    const before = await page.evaluate(off);
    await page.locator("#on-bedroom-heater").focus();
    await page.keyboard.press("Space");
    await page.waitForFunction((count) => [...document.querySelectorAll(".circuit g > desc")]
      .filter((one) => one.textContent === "off").length === count + 1, before);
    same(await page.evaluate(() => document.activeElement.id), "on-bedroom-heater", "focus");
    same(page.faults, [], "faults");
    await page.context().close();
  });
  await test("everything is reached with the keyboard alone", async () => {
    const page = await visit(site);
    await page.goto(site.base + "/branch/bedroom");
    const controls = await page.evaluate(() => [...document.querySelectorAll("a, button, input, select, summary")]
      .filter((one) => one.offsetParent !== null && one.type !== "hidden").length);
    const reached = new Set();
    for (let i = 0; i < controls + 3; i++) {
      await page.keyboard.press("Tab");
      reached.add(await page.evaluate(() => {
        const at = document.activeElement;
        at.dataset.reached = at.dataset.reached || String(Math.random());
        return at === document.body ? "" : at.dataset.reached;
      }));
    }
    reached.delete("");
    check(reached.size >= controls, `${reached.size} of ${controls}`);
    await page.context().close();
  });
}

async function accessTests(site) {
  for (const colorScheme of ["light", "dark"]) {
    await test(`WCAG 2.1 A and AA by axe, ${colorScheme}`, async () => {
      const page = await visit(site, { bypassCSP: true, colorScheme });
      const found = [];
      for (const path of pages) {
        await page.goto(site.base + path);
        await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
        found.push(...(await axe(page)).map((line) => `${path}: ${line}`));
      }
      same(found, [], "violations");
      await page.context().close();
    });
  }
  await test("no sideways scrolling from 360 to 1920 px", async () => {
    const page = await visit(site);
    const found = [];
    for (const width of [360, 768, 1280, 1920]) {
      await page.setViewportSize({ width, height: 900 });
      for (const path of pages) {
        await page.goto(site.base + path);
        await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        if (wide > 0) { found.push(`${path} at ${width}: ${wide} px`); }
        if (shots && width !== 768) {
          mkdirSync(shots, { recursive: true });
          await page.screenshot({ path: join(shots, `${path.replace(/[^a-z]+/g, "-")}${width}.png`) });
        }
      }
    }
    same(found, [], "too wide");
    same(page.faults, [], "faults, policy broken or resources missing");
    await page.context().close();
  });
  await test("with colours forced by the system: shapes, lines and the focus stay in sight", async () => {
    const page = await visit(site, { forcedColors: "active" });
    const found = [];
    for (const path of pages) {
      await page.goto(site.base + path);
      check(await page.evaluate(() => matchMedia("(forced-colors: active)").matches), "colours are forced");
      found.push(...await page.evaluate((where) => {
        const ground = getComputedStyle(document.documentElement).backgroundColor;
        const gone = [];
        const look = (selector, property) => document.querySelectorAll(selector).forEach((one) => {
          if (getComputedStyle(one)[property] === ground) { gone.push(`${where}: ${selector} ${property}`); }
        });
        look(".verdict svg", "fill");
        look(".circuit path", "stroke");
        look(".circuit text", "fill");
        look("p, td, th, label, button, a", "color");
        look(".branch, .findings li", "borderTopColor");
        return gone;
      }, path));
      await page.keyboard.press("Tab");
      const outline = await page.evaluate(() => { const style = getComputedStyle(document.activeElement); return style.outlineStyle; });
      check(outline !== "none", `${path}: the focus is seen`);
    }
    same([...new Set(found)], [], "the same colour as the ground");
    await page.context().close();
  });
  await test("on paper: all figures, no controls; nothing moves where motion is unwanted", async () => {
    const page = await visit(site, { reducedMotion: "reduce" });
    await page.emulateMedia({ media: "print", reducedMotion: "reduce" });
    same(await page.locator("nav").isVisible(), false, "navigation");
    check(await page.locator('[data-branch="bedroom"] .figures').isVisible(), "figures");
    const pdf = await page.pdf({ format: "A4" });
    check(pdf.subarray(0, 5).toString() === "%PDF-", "prints");
    await page.context().close();
  });
}

// What a person reads of a page: no tags, no names of files and commands that stand as such.
const read = (body) => body.slice(body.indexOf("<body")).replace(/<(code|pre|textarea)\b[^]*?<\/\1>/g, " ").replace(/<[^>]*>/g, "\n")
  .replaceAll("&#39;", "'").replaceAll("&quot;", '"').replaceAll("&amp;", "&");

const worded = {
  "us.ini": pages,
  "uk.ini": ["/", "/fault", "/demand?add=Car+charger,+32+A,+230+V&kwh=30&setpoint=50", "/cost", "/cost/day", "/build/missing"],
  "iec.ini": ["/", "/fault", "/demand?add=Car+charger,+32+A,+230+V&kwh=30&setpoint=50", "/cost", "/cost/day", "/build/missing"],
  "old.ini": ["/", "/fault", "/demand", "/demand?measured=70+A", "/cost", "/cost/day", "/build/missing"],
};

async function wordTests() {
  await test("every view speaks in the page's words, not in options and keys of the terminal", async () => {
    const found = [];
    let told = 0;
    for (const [from, paths] of Object.entries(worded)) {
      const file = database(`words-${from}.db`, from);
      const site = await serve(file);
      const branches = json("check", file).branches.map((branch) => `/branch/${branch.id}`);
      for (const view of [...paths, ...branches, "/demand?measured=80", "/estimate?load=Heatr,+1500+X"]) {
        for (const line of read((await raw(site, { path: view })).body).split("\n")) {
          const word = terminalWord(line);
          if (word) { found.push(`${from} ${view}: ${word} in ${line.slice(0, 160)}`); }
          told += /under (House and supply|Rooms and branches)/.test(line);
        }
      }
      await site.stop();
    }
    same(found, [], "words of the terminal");
    check(told > 5, `${told} lines say where a form asks for what is missing`);
  });
}

async function textTests() {
  await test("markup in any name is shown as text, and no script of it runs", async () => {
    const evil = `<img src=x onerror="alert(1)">'"&</script>`;
    const text = `[house]\nname = ${evil}\nrules = us\nmain_breaker = 100 A\n[room r]\nname = ${evil}\n[branch b]\nlabel = ${evil}\n`
      + `breaker = 15 A\nlegs = A\nserves = r\nwire = 14 AWG copper\n[outlet o]\nbranch = b\nroom = r\nname = ${evil}\nrun = 9 ft\n`
      + `[appliance a]\nname = ${evil}\noutlet = o\npower = 900 W\nuse = 07:00-07:10\n[scene s]\nname = ${evil}\non = a\n`;
    const file = join(scratch, "evil.ini");
    writeFileSync(file, text);
    const path = join(scratch, "evil.db");
    ampsum("import", file, "-o", path);
    const site = await serve(path);
    const page = await visit(site);
    let alerts = 0;
    page.on("dialog", (dialog) => { alerts++; dialog.dismiss(); });
    const query = encodeURIComponent(evil.replaceAll(",", ""));
    for (const where of ["/", "/?scene=s", "/branch/b", "/class", "/class/b?shown=99", "/cost", "/build", "/changes", "/appliance",
      `/appliance?what=${query}&rating=900&unit=W`, `/appliance?what=${query}&rating=900&unit=W&at=branch:b`]) {
      await page.goto(site.base + where);
      same(await page.locator("img, main script").count(), 0, `${where}: elements made of a name`);
      check((await page.locator("body").innerText()).includes("<img src=x"), `${where}: the name as text`);
    }
    same(alerts, 0, "alerts");
    await page.context().close();
    await site.stop();
  });
}

// 300 appliances on 50 branches, our own invention.
function largeHouse() {
  const lines = ["[house]", "name = Long row", "rules = us", "main_breaker = 200 A", "[tariff t]", "price = 0.15", "[room r]",
    "name = Hall with a name that is longer than most names of halls that anyone would think of"];
  for (let b = 0; b < 50; b++) {
    lines.push(`[branch b-${b}]`, `label = Branch number ${b} with a rather long label`, "breaker = 20 A", `legs = ${b % 2 ? "A" : "B"}`,
      "wire = 12 AWG copper", "length = 60 ft", "serves = r");
    for (let a = 0; a < 6; a++) {
      lines.push(`[appliance a-${b}-${a}]`, `name = Appliance ${a} of branch ${b}`, `branch = b-${b}`, "room = r",
        `power = ${100 + 37 * a + b} W`, `use = ${String(6 + a).padStart(2, "0")}:00-${String(7 + a).padStart(2, "0")}:10`);
    }
  }
  const file = join(scratch, "large.ini");
  writeFileSync(file, lines.join("\n") + "\n");
  const path = join(scratch, "large.db");
  ampsum("import", file, "-o", path);
  return path;
}

async function speedTests() {
  await test("300 appliances: a switch is repainted, its time is printed; the first view is under 150 kB, the program under 50 MB", async () => {
    const site = await serve(largeHouse());
    const page = await visit(site);
    const parts = await Promise.all(["/", "/style.css", "/live.js", "/icon.svg"].map((path) => raw(site, { path })));
    const first = parts.reduce((sum, part) => sum + Buffer.byteLength(part.body), 0);
    check(first > 10000 && first < 150000, `first view: ${first} bytes`);
    const times = [];
    for (let i = 0; i < 15; i++) {
      times.push(await page.evaluate((at) => new Promise((resolve) => {
        const box = document.querySelectorAll('input[type="checkbox"]')[at * 7];
        const root = document.documentElement;
        const before = root.dataset.switched;
        const begun = performance.now();
        new MutationObserver((_, watcher) => {
          if (root.dataset.switched !== before) {
            watcher.disconnect();
            requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - begun)));
          }
        }).observe(root, { attributes: true });
        box.click();
      }), i));
    }
    times.sort((a, b) => a - b);
    const memory = Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${site.child.pid}/status`, "utf8"))[1]);
    console.log(`# first view ${first} bytes; switch quickest ${times[0].toFixed(1)} ms, median ${times[7].toFixed(1)} ms, slowest ${times[14].toFixed(1)} ms; memory ${memory} kB`);
    check(times[0] > 0 && times.length === 15, "each switch was repainted");
    check(memory < 50000, `memory ${memory} kB`);
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

export async function views() {
  const path = database("views.db");
  const site = await serve(path);
  await figureTests(site, path);
  await lengthTests();
  await freshTests();
  await switchTests(site, path);
  await accessTests(site);
  await wordTests();
  await textTests();
  await speedTests();
  await site.stop();
}
