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
    check(/role="alert"><pre>[^<]*\n {2}\(4 \+ &lt;b&gt;\n {7}\^<\/pre>/.test(fault), "the line, as text, and a caret below the place");
    check(!fault.includes("<b>"), "what was typed is no markup");
  });
}

async function estimateTests(site) {
  await test("an estimate on the page has the figures of the command", async () => {
    const fields = [["load", "Heater, 1500 W"], ["load", "3 x lamp 60 W"], ["breaker", "15"], ["wire", "14 AWG"], ["run", "60 ft"], ["price", "0.16"]];
    const text = shown((await raw(site, { path: "/estimate?" + query(fields) })).body);
    const want = JSON.parse(ampsum("estimate", "Heater, 1500 W", "3 x lamp 60 W", "--breaker=15", "--wire=14 AWG", "--run=60 ft", "--price=0.16", "--format=json"));
    for (const figure of [want.current_a.toFixed(2) + " A", want.headroom_a.toFixed(2) + " A", want.drop_percent.toFixed(2) + " %", want.cost_hour + " USD", want.status]) {
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

export async function questions() {
  const site = await serve(demo("us.ini"));
  await circuitTests(site);
  await estimateTests(site);
  await site.stop();
  await startTests();
}
