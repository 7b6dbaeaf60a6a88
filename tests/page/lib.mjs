// What the tests of the page share: TAP, a served house, the browser, raw requests.
import { spawn, execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, copyFileSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, dirname } from "node:path";
import { fileURLToPath } from "node:url";
import net from "node:net";
import { chromium } from "playwright-core";

export const program = process.argv[2];
export const shots = process.argv[3] || "";
const top = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
export const demo = (name) => join(top, "demo-house", name);
export const scratch = mkdtempSync(join(tmpdir(), "ampsum-page-"));
process.env.XDG_STATE_HOME = join(scratch, "state");
mkdirSync(process.env.XDG_STATE_HOME, { mode: 0o700 });

let number = 0;
let failed = 0;

// No test of a loaded machine has taken a fifth of it.
const LONGEST_MS = Number(process.env.LONGEST_MS ?? 240000);
let opened = []; // what this test opened in the browser

// The body, or a fault where it does not end: a page that hangs, a browser that answers nothing any more.
async function inTime(body) {
  let timer;
  const late = new Promise((resolve, reject) => {
    timer = setTimeout(() => reject(new Error(`no end within ${LONGEST_MS / 1000} s`)), LONGEST_MS);
  });
  try {
    await Promise.race([body(), late]);
  } catch (fault) {
    if (/^no end within/.test(fault.message)) { await closeOpened(); }
    throw fault;
  } finally {
    clearTimeout(timer);
  }
}

// A browser that ends by itself (short of memory, killed), or answers no more, costs the test in which it did, and that
// says so; the next has a new one.
export async function test(name, body) {
  number++;
  opened = [];
  try {
    await inTime(body);
    console.log(`ok ${number} - page: ${name}`);
  } catch (fault) {
    failed++;
    console.log(`not ok ${number} - page: ${name}`);
    console.log(String(fault.stack || fault).split("\n").slice(0, 12).map((line) => "# " + line.slice(0, 400)).join("\n"));
  }
  if (number > 1 && !(browser && browser.isConnected())) {
    const free = /MemAvailable: *(\d+)/.exec(readFileSync("/proc/meminfo", "utf8"));
    console.log(`# the browser had ended by then; memory free: ${free ? Math.round(free[1] / 1024) : "?"} MB; another is started`);
    await startBrowser();
  }
}

export function check(good, what) {
  if (!good) { throw new Error(what); }
}

export function same(got, want, what) {
  const a = JSON.stringify(got);
  const b = JSON.stringify(want);
  check(a === b, `${what}: got ${a}, want ${b}`);
}

// Runs a command; gives its standard output. Status 1 says that a branch is over, which is no failure here.
export function ampsum(...words) {
  try {
    return execFileSync(program, words, { encoding: "utf8", maxBuffer: 1 << 26, stdio: ["ignore", "pipe", "pipe"] });
  } catch (fault) {
    if (fault.status === 1) { return fault.stdout; }
    throw fault;
  }
}

export const json = (...words) => JSON.parse(ampsum(...words, "--format=json"));

const served = [];

export const serve = (path, ...options) => serveBy(program, path, ...options);

export const serveBy = (which, path, ...options) => start(which, scratch, path, ...options);

// As in a person's own folder, without a house named: house.db there, or none yet.
export const serveIn = (folder) => start(program, folder);

export const emptyFolder = (name) => mkdtempSync(join(scratch, `${name}-`));

async function start(which, cwd, ...words) {
  const child = spawn(which, ["serve", ...words], { cwd, stdio: ["ignore", "pipe", "pipe"], env: { ...process.env, AMPSUM_HOUSE: "" } });
  let printed = "";
  let said = "";
  child.stderr.on("data", (bytes) => { said += bytes; });
  const ended = new Promise((resolve) => child.on("exit", (status) => resolve(status)));
  const address = await new Promise((resolve, reject) => {
    child.stdout.on("data", (bytes) => {
      printed += bytes;
      const found = /http:\/\/127\.0\.0\.1:(\d+)\/enter\?key=([0-9a-f]{32})/.exec(printed);
      if (found) { resolve(found); }
    });
    child.on("exit", () => reject(new Error("serve ended: " + said)));
  });
  const site = {
    child, enter: address[0], port: Number(address[1]), key: address[2], base: `http://127.0.0.1:${address[1]}`,
    cookie: `ampsum-${address[1]}=${address[2]}`, printed: () => printed, ended,
    stop: async (signal = "SIGINT") => { child.kill(signal); return ended; },
  };
  served.push(site);
  return site;
}

// A request written by hand; gives { status, head, body }. `host` null leaves the header out.
export function raw(site, { method = "GET", path = "/", host = `127.0.0.1:${site.port}`, headers = [], body = "",
  cookie = site.cookie } = {}) {
  const lines = [`${method} ${path} HTTP/1.1`];
  if (host !== null) { lines.push(`Host: ${host}`); }
  if (cookie) { lines.push(`Cookie: ${cookie}`); }
  lines.push("Connection: close", ...headers, "", "");
  return new Promise((resolve, reject) => {
    const socket = net.connect(site.port, "127.0.0.1");
    let got = Buffer.alloc(0);
    socket.on("connect", () => { socket.write(lines.join("\r\n")); if (body.length > 0) { socket.write(body); } });
    socket.on("data", (bytes) => { got = Buffer.concat([got, bytes]); });
    let fault = null;
    socket.on("error", (one) => { fault = one; });
    socket.on("close", () => {
      if (got.length === 0 && fault) { reject(fault); return; }
      const text = got.toString("utf8");
      const end = text.indexOf("\r\n\r\n");
      resolve({ status: Number(text.slice(9, 12)), head: text.slice(0, end), body: text.slice(end + 4) });
    });
    socket.setTimeout(15000, () => socket.destroy());
  });
}

export async function secrets(site, path = "/build") {
  const page = await raw(site, { path });
  const token = /ampsum-token" content="([0-9a-f]{32})/.exec(page.body);
  const seen = /name="seen" value="([^"]*)"/.exec(page.body);
  return { token: token ? token[1] : "", seen: seen ? seen[1] : "" };
}

// A form as a browser sends it, with what is to be wrong about it in `change`.
export function post(site, path, fields, change = {}) {
  const body = change.body ?? new URLSearchParams(fields).toString();
  const origin = change.origin === undefined ? site.base : change.origin;
  const headers = [`Content-Type: ${change.type ?? "application/x-www-form-urlencoded"}`,
    `Content-Length: ${Buffer.byteLength(body)}`, ...(change.headers ?? [])];
  if (origin !== null) { headers.push(`Origin: ${origin}`); }
  return raw(site, { method: "POST", path, headers, body, host: change.host, cookie: change.cookie ?? site.cookie });
}

// The keys of a house file, as 'help house' names them.
const keys = new Set([...ampsum("help", "house").matchAll(/^ {2}([a-z_]+) {2,}\S/gm)].map((found) => found[1]));
check(keys.size > 80 && keys.has("supply_fuse") && keys.has("pscc"), `${keys.size} keys`);
const letters = new Set(["pscc", "ze", "cpc"]); // keys without a line below that are no words of the language

// The first word of a terminal or a house file in a text that people read; "" where there is none.
export function terminalWord(text) {
  const marked = /`|--[a-z]+|\bampsum [a-z]+/.exec(text);
  if (marked) { return marked[0]; }
  for (const found of text.matchAll(/(?<![\w-])([a-z_]+)(=\S)?(?![\w-])/g)) {
    const key = keys.has(found[1]) && (found[2] !== undefined || found[1].includes("_") || letters.has(found[1]));
    if (key) { return found[0]; }
  }
  return "";
}

// A finding as a page says it: its figures, its number and source, word by word but where it names a key.
export function saysFinding(text, finding) {
  const parts = finding.text.split(/[;:,()]/).map((part) => part.trim()).filter(Boolean);
  for (const part of parts) {
    check(text.includes(part) === (terminalWord(part) === ""), `${finding.id}: '${part}'`);
  }
  for (const part of [`[${finding.id}]`, finding.source]) { check(text.includes(part), `${finding.id}: '${part}'`); }
}

let browser = null;

export async function openBrowser(extra = []) {
  return chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync", ...extra],
  });
}

// False where it does not close in time.
const closes = (what) => Promise.race([what.close().then(() => true, () => true),
  new Promise((resolve) => setTimeout(() => resolve(false), 5000))]);

// What a test that hangs has opened; where that does not close either, the browser with it.
async function closeOpened() {
  const closed = await Promise.all(opened.map(closes));
  if (opened.length === 0 || closed.includes(false)) {
    const old = browser;
    browser = null;
    if (old) { await closes(old); }
  }
}

export async function startBrowser() {
  browser = await openBrowser();
}

// A page of nothing yet. Faults of scripts and refused resources end up in page.faults.
export async function open(options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  opened.push(context);
  const page = await context.newPage();
  page.faults = [];
  page.on("pageerror", (fault) => page.faults.push(String(fault)));
  page.on("console", (line) => { if (line.type() === "error") { page.faults.push(line.text()); } });
  page.setDefaultTimeout(8000);
  return page;
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

// One question a page: the answer typed or chosen, and the page's button pressed. `null` takes what is proposed.
export async function answer(page, value) {
  const field = page.locator("form.one").locator("input:not([type=hidden]), select").first();
  if (value !== null) { await ((await field.evaluate((one) => one.tagName)) === "SELECT" ? field.selectOption(value) : field.fill(value)); }
  await page.locator("form.one button").click();
  await page.waitForLoadState();
}

// Several answers one after the other, none of them refused.
export async function answers(page, ...values) {
  for (const value of values) {
    await answer(page, value);
    same(await page.locator('[role="alert"]').allInnerTexts(), [], `${value}: refused`);
  }
}

// What axe finds against WCAG 2.1 A and AA, a line each. The page was opened with bypassCSP.
export async function axe(page) {
  await page.evaluate(axeSource);
  const found = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"] }));
  return found.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 120)).slice(0, 3).join(" | ")}`);
}

// A page that was let in. Faults of scripts and refused resources end up in page.faults.
export async function visit(site, options = {}) {
  const page = await open(options);
  await page.goto(site.enter);
  return page;
}

export async function done() {
  for (const site of served) { site.child.kill("SIGKILL"); }
  if (browser) { await browser.close(); }
  rmSync(scratch, { recursive: true, force: true });
  console.log(`1..${number}`);
  process.exitCode = failed > 0 ? 1 : 0;
}

export function database(name, from = "us.ini") {
  const path = join(scratch, name);
  ampsum("import", demo(from), "-o", path);
  return path;
}

// The house as text, as `export` writes it.
export function houseText(path) {
  const file = join(scratch, "exported.ini");
  rmSync(file, { force: true });
  ampsum("export", path, "-o", file);
  return readFileSync(file, "utf8");
}

export function copy(from, to) {
  copyFileSync(from, to);
}
