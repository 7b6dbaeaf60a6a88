// The house's own page: a question answered in a sentence, the panel with its bars, what to do, the search.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { ampsum, answer, answers, check, database, demo, houseText, json, raw, same, saysFinding, scratch, serve, test, visit } from "./lib.mjs";

// Our own invention: a room with room, one that takes a heater only while the kettle is off, one that has no way.
function small(name) {
  const file = join(scratch, `${name}.ini`);
  writeFileSync(file, ["[house]", "name = Mill Cottage", "rules = iec", "main_breaker = 40 A", "[room hall]", "name = Hall", "[room kitchen]",
    "name = Kitchen", "[room loft]", "name = Loft", "[branch sockets]", "label = Hall sockets", "breaker = 16 A", "serves = hall", "[branch kitchen]",
    "label = Kitchen sockets", "breaker = 16 A", "serves = kitchen", "[branch loft]", "label = Loft sockets", "breaker = 6 A", "serves = loft",
    "[appliance kettle]", "name = Kettle", "branch = kitchen", "room = kitchen", "power = 2400 W", "[appliance fan]", "name = Loft fan",
    "branch = loft", "room = loft", "power = 60 W"].join("\n") + "\n");
  const path = join(scratch, `${name}.db`);
  ampsum("import", file, "-o", path);
  return path;
}

async function ask(page, what, room, when) {
  await page.locator('.ask-box [name="what"]').fill(what);
  await page.locator('.ask-box [name="room"]').selectOption(room);
  if (when) { await page.locator('.ask-box [name="use"]').fill(when); }
  await page.locator(".ask-box button").click();
  await page.waitForLoadState();
  return page.locator(".said[role=status]").innerText();
}

async function question(javaScriptEnabled) {
  const how = javaScriptEnabled ? "" : ", without a script";
  await test(`three fields and one press: yes; yes, if; no, try; and on with one press${how}`, async () => {
    const path = small(javaScriptEnabled ? "ask" : "ask-plain");
    const site = await serve(path);
    const page = await visit(site, { javaScriptEnabled });
    same(await page.locator('.ask-box input:not([type="hidden"]), .ask-box select').count(), 3, "three fields");
    // By hand: 1500 W / 230 V = 6.5 A. Hall: nothing else on 16 A. Kitchen: 2400 W / 230 V = 10.4 A, together 17.0 A on 16 A. Loft: 6 A.
    same(await ask(page, "Heater, 1500 W", "hall", "18:00-20:00"),
      "Yes: Hall sockets has room for Heater, 1500 W, used 18:00-20:00 beside all that may be on.", "hall");
    check(!(await page.locator(".places").first().isVisible()), "the figures are folded");
    await page.goto(site.base + "/");
    same(await ask(page, "Heater, 1500 W, 6pm to 8pm in the kitchen", "", ""),
      "Yes, if Kettle stays off while it runs: then Kitchen sockets takes Heater, 1500 W, used 18:00-20:00.", "in one line");
    same(new URL(page.url()).search, "?ask=1&what=Heater%2C%201500%20W&room=kitchen&use=18%3A00-20%3A00", "as it was taken");
    await page.goto(site.base + "/");
    same(await ask(page, "Heater, 1500 W", "kitchen", "18:00-20:00"),
      "Yes, if Kettle stays off while it runs: then Kitchen sockets takes Heater, 1500 W, used 18:00-20:00.", "kitchen");
    await page.goto(site.base + "/");
    same(await ask(page, "Heater, 1500 W", "loft", "18:00-20:00"),
      "No, not in Loft. Try Hall sockets (in Hall): it has room for Heater, 1500 W, used 18:00-20:00. That is to use it there, never over an extension cord.", "loft");
    await page.goto(site.base + "/");
    same(await ask(page, "Oven, 9000 W", "", ""), "No: no branch here has room for Oven, 9000 W. A new branch is a licensed electrician's work.", "nowhere");
    await page.goto(site.base + "/");
    await ask(page, "Heater, 1500 W", "hall", "18:00-20:00");
    await page.locator("button", { hasText: "Put it on Hall sockets" }).click();
    await page.waitForLoadState();
    check(/name = Heater\n(.+\n)*branch = sockets/.test(houseText(path)) && houseText(path).includes("use = 18:00-20:00"), houseText(path));
    await page.context().close();
    await site.stop();
  });
}

async function typed() {
  await test("watts typed beside a name are the person's own: kept as the nameplate's, never called typical", async () => {
    const path = database("typed-watts.db");
    const site = await serve(path);
    const page = await visit(site);
    const typical = JSON.parse(ampsum("typical", "kettle", "--rules=us", "--format=json"));
    const watts = `${typical.rows[0].typical_w} W`; // the figure alone does not tell whose it is
    const kettles = () => [...houseText(path).matchAll(/\nname = Kettle\n((?:.+\n)*)/g)].map((found) => found[1]);
    const marks = async () => {
      await page.goto(site.base + "/build/appliances?room=kitchen");
      return (await page.locator(".lines li", { hasText: /^Kettle/ }).allTextContents()).map((text) => text.includes("a typical rating"));
    };
    ampsum("remove", path, "appliance", "kettle", "--with-all");
    await page.goto(site.base + "/");
    check((await ask(page, `Kettle, ${watts}`, "kitchen", "7:00-7:05")).startsWith("Yes"), "a place");
    await page.locator("button", { hasText: "Put it on" }).click();
    await page.waitForLoadState();
    check(kettles().length === 1 && kettles()[0].includes("rating_from = plate"), kettles().join("\n"));
    same(await marks(), [false], "the box of the house's page");
    await page.goto(site.base + "/first/appliance");
    await answer(page, `Kettle, ${watts}`);
    await answer(page, "kitchen");
    await answer(page, null);
    const taken = await page.locator(".taken").innerText();
    check(!taken.includes("typical figure"), taken);
    await answer(page, "");
    check((await page.locator(".taken").innerText()).replace(/\s+/g, " ").includes(`nameplate ${watts} Change`), await page.locator(".taken").innerText());
    await answers(page, "", "");
    same(kettles().map((text) => text.includes("rating_from = plate")), [true, true], "the first house's questions");
    await page.goto(site.base + "/first/appliance");
    await answers(page, "Kettle", "kitchen", null, "", "", "");
    same(kettles().map((text) => text.includes("rating_from")), [true, true, false], "without watts a typical figure is taken");
    same((await marks()).sort(), [false, false, true], "and marked");
    await page.context().close();
    await site.stop();
  });
}

async function season() {
  await test("the mean month stands beside the dearest and the cheapest, on the house's page and with the cost", async () => {
    const path = database("season.db");
    const site = await serve(path);
    const page = await visit(site);
    const want = json("cost", path);
    const months = want.months.map((month) => Number(month.cost));
    const name = (cost) => new Date(Date.UTC(2026, months.indexOf(cost))).toLocaleString("en", { month: "long", timeZone: "UTC" });
    const most = Math.max(...months);
    const least = Math.min(...months);
    for (const [view, where] of [["/", ".energy"], ["/cost", "main"]]) {
      await page.goto(site.base + view);
      const text = await page.locator(where).innerText();
      const mean = (Number(want.year.cost) / 12).toFixed(2);
      check(text.includes(`${mean} USD a month`), `${view}: ${mean}`);
      const at = (cost) => `${name(cost)}: ${want.months[months.indexOf(cost)].kwh.toFixed(0)} kWh, ${cost.toFixed(2)} USD`;
      check(text.includes(`Dearest in ${at(most)}; cheapest in ${at(least)}.`), `${view}: ${text.slice(0, 600)}`);
    }
    await page.context().close();
    await site.stop();
  });
}

async function panel() {
  await test("the panel: the worst first or by space, a bar as the figures say, what to do", async () => {
    const path = database("panel.db");
    const site = await serve(path);
    const page = await visit(site);
    const want = json("check", path);
    const shown = () => page.locator("li.branch").evaluateAll((rows) => rows.map((row) => row.dataset.branch));
    const lines = ampsum("check", path).split("\n").map((line) => /^(OVER|AT RISK|near|room|empty) +\S+ +(\S+)/.exec(line)).filter(Boolean);
    same(await shown(), lines.map((line) => line[2]), "the terminal's order");
    for (const branch of want.branches) {
      const part = (name) => page.locator(`[data-branch="${branch.id}"] .bar-${name}`).getAttribute("width");
      const share = (value) => Math.min(150, 100 * value / branch.breaker_a);
      check(Math.abs(Number(await part("all")) - share(branch.all.planning_a)) < 0.06, `${branch.id}: everything on`);
      check(Math.abs(Number(await part("busiest")) - share(branch.busiest.planning_a)) < 0.06, `${branch.id}: busiest`);
    }
    const left = want.branches.find((branch) => branch.id === "kitchen-left").all;
    same(await page.locator('[data-branch="kitchen-left"] .todo').innerText(), `${left.headroom_a.toFixed(1)} A of its 20 A is left: ask before plugging in more.`, "near: what to do");
    const room = want.branches.find((branch) => branch.id === "refrigerator").all;
    same(await page.locator('[data-branch="refrigerator"] .todo').innerText(), `${room.headroom_a.toFixed(1)} A of its 15 A is left.`, "room: what is left");
    check((await page.locator('[data-branch="refrigerator"] .verdict').innerText()) === "room", "never called more than it is");
    const advice = await page.locator('[data-branch="bedroom"] .todo').innerText();
    const set = json("combos", path, "bedroom", "--most=1").sets[0].loads;
    same(set, ["bedroom-heater", "hair-dryer-bedroom"], "the command");
    check(advice.startsWith("Not together: Portable heater and Hair dryer."), advice);
    same(await page.locator(".branch .todo").count(), want.branches.length, "a sentence for each row");
    same(await page.locator(".branch .todo strong").count(), 2, "which may not run together: over and at risk alone");
    await page.goto(site.base + "/?order=space");
    const spaces = [...houseText(path).matchAll(/\[branch (\S+)\]\n((?:[^[].*\n|\n)*)/g)].map((found) => [found[1], found[2]])
      .map(([id, text]) => [id, /panel = (\S+)/.exec(text)?.[1] ?? "main", Number(/position = (\d+)/.exec(text)?.[1] ?? 1000)]);
    const main = spaces.filter((one) => one[1] === "main").sort((a, b) => a[2] - b[2]).map((one) => one[0]);
    same((await shown()).slice(0, main.length), main, "by space");
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
  await test("a search finds a branch by its name or by an appliance, with a script and without", async () => {
    const path = database("search.db");
    const site = await serve(path);
    const page = await visit(site);
    const visible = () => page.locator("li.branch:visible").evaluateAll((rows) => rows.map((row) => row.dataset.branch));
    const all = (await visible()).length;
    await page.locator("#find").fill("hair DRYER");
    same((await visible()).sort(), ["bath", "bedroom"], "by appliance");
    await page.locator("#find").fill("zebra");
    same(await visible(), [], "none");
    check((await page.locator("#none-found").innerText()).includes("No branch"), "said");
    await page.locator("#find").fill("");
    same((await visible()).length, all, "all again");
    const plain = (await raw(site, { path: "/?find=hair+dryer" })).body;
    same([...plain.matchAll(/data-branch="([^"]+)"/g)].map((found) => found[1]).sort(), ["bath", "bedroom"], "without a script");
    await page.context().close();
    await site.stop();
  });
}

async function narrow() {
  await test("at 360 px the house's page is short: what need not be open is folded, and nothing is lost", async () => {
    const path = database("narrow.db");
    const site = await serve(path);
    const page = await visit(site, { viewport: { width: 360, height: 800 } });
    const want = json("check", path);
    const height = await page.evaluate(() => document.documentElement.scrollHeight);
    check(height < 2400, `${height} px`);
    const inSight = () => page.locator("li.branch:visible").evaluateAll((rows) => rows.map((row) => row.dataset.branch));
    const worst = want.branches.filter((one) => ["over", "at-risk", "near"].includes(one.status)).map((one) => one.id);
    const first = await inSight();
    same([...first].sort(), [...worst].sort(), "those with room are folded");
    check((await page.locator(".with-room > summary").innerText()) === `${want.branches.length - worst.length} more branches, all with room`, "how many, and why");
    await page.locator("#find").fill("refrigerator");
    check((await inSight()).includes("refrigerator"), "the search opens the fold");
    await page.locator("#find").fill("");
    same((await inSight()).length, want.branches.length, "nothing is lost");
    for (const other of ["/?all=1", "/?scene=cold-evening", "/?order=space"]) {
      await page.goto(site.base + other);
      same((await inSight()).length, want.branches.length, `${other}: no fold where a switch may be on, or by space`);
    }
    await page.goto(site.base + "/");
    const row = page.locator('[data-branch="bedroom"]');
    const bedroom = want.branches.find((one) => one.id === "bedroom");
    const seen = await row.innerText();
    check(seen.includes(bedroom.all.planning_a.toFixed(1)) && seen.includes("OVER"), seen);
    check(!seen.includes("Headroom"), "folded");
    await row.locator("summary").click();
    const open = await row.innerText();
    for (const figure of [bedroom.breaker_a, bedroom.busiest.planning_a.toFixed(1), bedroom.all.headroom_a.toFixed(1)]) { check(open.includes(String(figure)), `${figure} in ${open}`); }
    const box = await row.locator('input[value="bedroom-heater"]');
    await box.check();
    await page.waitForFunction(() => document.querySelector("#house.switched"));
    await row.locator("summary").click();
    check((await row.innerText()).includes("On now 12.5 A") || (await row.innerText()).replace(/\s+/g, " ").includes("On now 12.5 A"), "what is on now stays in sight");
    for (const [i, panel] of want.panels.entries()) {
      const notes = panel.findings.filter((one) => one.severity === "note");
      const folded = page.locator("main > details", { hasText: /^\d+ notes?/ }).nth(i);
      await folded.locator("summary").click();
      for (const note of notes) { saysFinding(await folded.innerText(), note); }
      check(notes.length > 0, "notes to fold");
    }
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.locator('[data-branch="bath"] summary').click();
    check((await page.locator('[data-branch="bath"]').innerText()).includes("Headroom"), "unfolded where there is room, too");
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

async function decisions() {
  await test("what to move and what may not run together stand as the commands find them", async () => {
    const path = database("decide.db");
    const site = await serve(path);
    const page = await visit(site);
    for (const reach of ["room", "house"]) {
      await page.goto(`${site.base}/settle?reach=${reach}`);
      const names = Object.fromEntries(json("check", path).branches.map((branch) => [branch.id, branch.label]));
      const plans = json("settle", path, `--reach=${reach}`).plans;
      const moves = plans.flatMap((plan) => plan.moves);
      const text = await page.locator("main").innerText();
      check(moves.length > 0, "the command finds moves");
      for (const move of moves) { check(text.includes(`Use ${move.name} on ${names[move.to]}, not on ${names[move.from]}.`), `${move.name}: ${text}`); }
      check(text.includes("never over an extension cord"), "the caution");
    }
    await page.goto(site.base + "/combos/bedroom");
    const sets = json("combos", path, "bedroom");
    same(await page.locator(".sets li").count(), sets.sets.length, "sets");
    const first = await page.locator(".sets li").first().innerText();
    same(first, `Portable heater and Hair dryer together: ${sets.sets[0].planning_a.toFixed(2)} A planned, on 15 A.`, "the first");
    await page.goto(site.base + "/combos/study");
    check((await page.locator("main").innerText()).includes("No loads of this branch overload it together"), "none");
    same((await raw(site, { path: "/combos/nowhere" })).status, 404, "no such branch");
    same(page.faults, [], "faults");
    await page.context().close();
    await site.stop();
  });
}

async function gone() {
  await test("where the program is gone a switch goes back, and the page says so", async () => {
    const path = database("gone.db");
    const site = await serve(path);
    const page = await visit(site);
    const row = page.locator('[data-branch="bedroom"]');
    await row.locator("summary").click();
    await row.locator('input[value="bedroom-heater"]').check();
    await page.waitForFunction(() => document.querySelector('[data-branch="bedroom"] [data-figure="now"]').textContent === "12.5");
    const other = await visit(site);
    await other.goto(site.base + "/branch/bedroom");
    await site.stop();
    await row.locator('input[value="hair-dryer-bedroom"]').click();
    await page.waitForFunction(() => document.querySelector("#live-error"));
    same([await row.locator('input[value="hair-dryer-bedroom"]').isChecked(), await row.locator('input[value="bedroom-heater"]').isChecked()], [false, true], "put back");
    same(await row.locator('[data-figure="now"]').innerText(), "12.5", "the figures fit it");
    check((await page.locator("#live-error").innerText()).includes("nothing was switched"), "said");
    await page.setViewportSize({ width: 360, height: 640 });
    await row.locator('input[value="hair-dryer-bedroom"]').scrollIntoViewIfNeeded();
    await row.locator('input[value="hair-dryer-bedroom"]').click();
    const said = await page.locator("#live-error").boundingBox();
    check(said.y >= 0 && said.y + said.height <= 640, `where the switch is, far down a telephone's page: ${said.y}`);
    await other.locator("#on-bedroom-heater").click();
    await other.waitForFunction(() => document.querySelector("#live-error"));
    same(await other.locator("#on-bedroom-heater").isChecked(), true, "on the branch view, too");
    await page.context().close();
    await other.context().close();
  });
}

export async function house() {
  await question(true);
  await question(false);
  await typed();
  await season();
  await panel();
  await narrow();
  await decisions();
  await gone();
}
