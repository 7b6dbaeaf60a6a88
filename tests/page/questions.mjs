// Questions that need no house: a circuit and loads typed in; `serve` alone begins with them.
import { mkdtempSync } from "node:fs";
import { spawn } from "node:child_process";
import { join } from "node:path";
import { ampsum, check, demo, program, raw, same, saysFinding, scratch, serve, test, visit } from "./lib.mjs";

const query = (fields) => new URLSearchParams(fields).toString();
const shown = (body) => body.replace(/<[^>]*>/g, " ").replace(/&#39;/g, "'").replace(/&lt;/g, "<").replace(/\s+/g, " ");

// Every figure that the command shows in its grid and its steps stands on the page.
async function circuitTests(site) {
  await test("a circuit on the page has the figures and steps of solve", async () => {
    const words = ["60 V", "8 + (20 | 30)", "--open", "R2", "--breaker", "5"];
    const page = await raw(site, { path: "/solve?" + query({ source: "60 V", circuit: "8 + (20 | 30)", open: "R2", breaker: "5" }) });
    same(page.status, 200, "status");
    const text = shown(page.body);
    const answer = ampsum("solve", ...words);
    const steps = answer.slice(answer.indexOf("Steps"), answer.indexOf("Breaker of")).split("\n").filter((line) => line.startsWith("  "));
    check(steps.length > 10, "steps are there");
    for (const step of steps) { check(text.includes(step.trim()), step); }
    for (const figure of ["64.8 W", "180 W", "900/19 V"]) { check(text.includes(figure), figure); }
    check(/<svg[^>]*role="img"/.test(page.body), "the picture is there");
  });
  await test("an unknown part, two answers, and a fault with its caret", async () => {
    const two = shown((await raw(site, { path: "/solve?" + query({ source: "12 V", circuit: "4 + ?", know: "P2 = 8 W" }) })).body);
    check(two.includes("Answer 1 of 2") && two.includes("Answer 2 of 2"), "two answers");
    const fault = (await raw(site, { path: "/solve?" + query({ circuit: "(4 + <b>" }) })).body;
    check(/role="alert"><p><a href="#wrong">Circuit[^<]*<\/a>: [^<]*<\/p><pre class="typed"> {2}\(4 \+ <span class="here"><\/span>&lt;b&gt;<\/pre>/.test(fault), "the line, as text, and the place of its caret");
    check(!fault.includes("<b>"), "what was typed is no markup");
  });
}

async function estimateTests(site) {
  await test("an estimate on the page has the figures of the command", async () => {
    const fields = [["load", "Heater, 1500 W"], ["load", "3 x lamp 60 W"], ["breaker", "15"], ["wire", "14 AWG"], ["run", "60 ft"], ["price", "0.16"]];
    const text = shown((await raw(site, { path: "/estimate?" + query(fields) })).body);
    const want = JSON.parse(ampsum("estimate", "Heater, 1500 W", "3 x lamp 60 W", "--breaker=15", "--wire=14 AWG", "--run=60 ft", "--price=0.16", "--format=json"));
    for (const figure of [want.current_a.toFixed(3) + " A", want.headroom_a.toFixed(3) + " A", want.drop_percent.toFixed(2) + " %", want.cost_hour + " USD", want.status]) {
      check(text.includes(figure), figure);
    }
    for (const finding of want.findings) { saysFinding(text, finding); }
    const wrong = shown((await raw(site, { path: "/estimate?load=" + encodeURIComponent("Heater, 1,500 W") })).body);
    check(wrong.includes("no thousands separator"), "what is wrong is said");
  });
}

// Without HOUSE in a folder without house.db.
async function startTests() {
  await test("serve alone begins with a circuit, loads, and a house to begin", async () => {
    const child = spawn(program, ["serve"], { cwd: mkdtempSync(join(scratch, "alone-")), stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, AMPSUM_HOUSE: "" } });
    let printed = "";
    const found = await new Promise((resolve, reject) => {
      child.stdout.on("data", (bytes) => {
        printed += bytes;
        const one = /(http:\/\/127\.0\.0\.1:(\d+))\/enter\?key=([0-9a-f]{32})/.exec(printed);
        if (one) { resolve(one); }
      });
      child.on("exit", () => reject(new Error("serve ended")));
    });
    const site = { enter: found[0], base: found[1], port: Number(found[2]), cookie: `ampsum-${found[2]}=${found[3]}` };
    const page = await visit(site);
    await page.goto(site.base + "/");
    same(new URL(page.url()).pathname, "/start", "where it begins");
    await page.getByLabel(/^Source/).fill("12 V");
    await page.getByLabel(/^Circuit/).fill("4 | ?");
    await page.getByLabel(/^What is known/).fill("I = 4.5 A");
    await page.getByRole("button", { name: "Solve" }).click();
    check((await page.locator("main").innerText()).includes("8 Ω"), "the answer");
    await page.goto(site.base + "/start");
    await page.getByRole("link", { name: "Begin a house" }).click();
    same(new URL(page.url()).pathname, "/first/house", "a house can be begun");
    await page.context().close();
    child.kill("SIGINT");
  });
}

// Which field a refusal is about: it is named and linked to above, marked, has the focus, and says why beside it.
const refused = [
  ["/estimate?load=Lamp,+60+W&load=Heatr,+1500+X", "Load", "1500 X", "Heatr, 1500 X"],
  ["/estimate?load=Heater,+1500+W&breaker=15+bananas", "Breaker, A", "unknown unit", "15 bananas"],
  ["/estimate?load=Heater,+1500+W&breaker=15&wire=banana", "Wire", "no wire size", "banana"],
  ["/estimate?load=Heater,+1500+W&breaker=15&run=far", "Its length, one way", "not a number", "far"],
  ["/estimate?load=Heater,+1500+W&price=dear", "Price of a kWh", "not a number", "dear"],
  ["/demand?add=Hot+tub,+6+kW,+240+V&add=Car,+8+X", "New load", "8 X", "Car, 8 X"],
  ["/demand?setpoint=900", "A control system keeps the service at, A", "above the service", "900"],
  ["/demand?kwh=lots", "For the car a day, kWh", "not a number", "lots"],
  ["/demand?measured=80", "The meter's maximum of a year", "W, kW, VA, kVA or A", "80"],
  ["/solve?source=60+V&circuit=8+%2B+(20", "Circuit: + in series, | in parallel, ? for the unknown", "bracket", "8 + (20"],
  ["/solve?source=60+X&circuit=8+%2B+20", "Source: 60 V, 2 A, or ? V; empty for resistances alone", "unit", "60 X"],
  ["/solve?source=60+V&circuit=8+%2B+%3F&know=Q%3D3", "What is known besides", "R, V, I or P", "Q=3"],
  ["/solve?source=60+V&circuit=8+%2B+9&open=R7", "A part that opens", "nearest", "R7"],
  ["/solve?source=60+V&circuit=8+%2B+9&breaker=q", "Breaker, A", "number", "q"],
  ["/appliance?what=Heater&rating=1500&unit=W&use=25:00-26:00", "When is it used?", "25:00", "25:00-26:00"],
  ["/appliance?what=Heater&rating=15x0&unit=W", "Rating on its nameplate", "15x0", "15x0"],
  ["/appliance?what=Qwertz", "What is it? (needed)", "no rating", "Qwertz"],
];

async function refusalTests(site) {
  await test("a refusal names its field and leads to it: marked, with the focus, and why beside it", async () => {
    const page = await visit(site);
    for (const [path, label, why, typed] of refused) {
      await page.goto(site.base + path);
      check((await page.title()).startsWith("Error: "), `${path}: ${await page.title()}`);
      const link = page.locator('[role="alert"] a[href="#wrong"]');
      same(await link.innerText(), label.replace(/ \(needed\)$/, ""), path);
      const field = page.locator("#wrong");
      same([await field.inputValue(), await field.getAttribute("aria-invalid")], [typed, "true"], `${path}: the field`);
      check(await page.evaluate(() => document.activeElement.id === "wrong"), `${path}: the focus`);
      const said = await page.locator("label:has(#wrong) small.wrong").innerText();
      check(said.includes(why) && !/^--|\[(branch|appliance)/.test(said), `${path}: ${said}`);
      check(await page.locator('[aria-invalid="true"]').count() === 1, `${path}: one field`);
    }
    await page.context().close();
  });
  await test("an answer stands above its form, what is typed as people type it", async () => {
    const page = await visit(site, { viewport: { width: 360, height: 640 } });
    for (const path of ["/demand?add=Car+charger,+32+A,+240+V", "/demand?add=Car+charger,+32+A,+240+V&setpoint=80+amps&measured=90+amps",
      "/estimate?load=Heater,+1500+W&breaker=15+amps&run=60+feet&price=16+cents"]) {
      await page.goto(site.base + path);
      const box = await page.locator("p.answer").boundingBox();
      check(box.y < (await page.locator("main form").first().boundingBox()).y && box.y < 400, `${path}: ${box.y}`);
      same(await page.locator('[role="alert"]').count(), 0, path);
    }
    await page.goto(site.base + "/solve");
    await page.getByLabel(/^Source/).fill("12 V");
    await page.getByLabel(/^Circuit/).fill("4 | 8");
    await page.getByRole("button", { name: "Solve" }).click();
    await page.waitForFunction(() => document.querySelector("#answer") && document.querySelector("#answer").getBoundingClientRect().top < 100);
    await page.context().close();
  });
}

export async function questions() {
  const site = await serve(demo("us.ini"));
  await refusalTests(site);
  await circuitTests(site);
  await estimateTests(site);
  await site.stop();
  await startTests();
}
