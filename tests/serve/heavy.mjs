// The local page with houses that are made to take long: each answer within so much processor time, the program
// never deaf to its end (TAP).   node heavy.mjs PROGRAM HOUSES_SCRIPT [SECONDS]
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { begin, finish, result, wait } from "./tap.mjs";

const [program, houses, given] = process.argv.slice(2);
const most = Number(given ?? "2");
const folder = mkdtempSync(join(tmpdir(), "ampsum-heavy-"));
process.env.XDG_STATE_HOME = folder; // of this test alone
begin("heavy");

async function start(house) {
  const child = spawn(program, ["serve", join(folder, house)]);
  const ended = new Promise((done) => child.on("exit", (status, signal) => done({ status, signal })));
  let printed = "";
  child.stdout.on("data", (bytes) => (printed += bytes));
  for (let i = 0; i < 1200; i += 1) {
    const found = /127\.0\.0\.1:(\d+)\/enter\?key=([0-9a-f]{32})/.exec(printed);
    if (found) return { child, ended, port: Number(found[1]), key: found[2] };
    await wait(50);
  }
  throw new Error(`not started: ${printed}`);
}

// Processor time of the server and of what it ran, in seconds; NaN once it is gone.
function used(site) {
  try {
    const fields = readFileSync(`/proc/${site.child.pid}/stat`, "utf8").split(") ")[1].split(" ");
    return fields.slice(11, 15).reduce((sum, ticks) => sum + Number(ticks), 0) / 100;
  } catch {
    return Number.NaN;
  }
}

// The command lines of all programs.
function running() {
  return readdirSync("/proc").filter((name) => /^\d+$/.test(name)).map((pid) => {
    try {
      return readFileSync(`/proc/${pid}/cmdline`, "utf8");
    } catch {
      return "";
    }
  });
}

function ask(site, path) {
  return new Promise((done) => {
    const socket = connect(site.port, "127.0.0.1");
    let head = "";
    const end = () => { socket.destroy(); done(head.slice(9, 12)); };
    socket.on("data", (bytes) => { if (head.length < 20) head += bytes.subarray(0, 20); });
    socket.on("error", end);
    socket.on("close", end);
    socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${site.port}\r\nConnection: close\r\nCookie: ampsum-${site.port}=${site.key}\r\n\r\n`);
  });
}

execFileSync("sh", [houses, folder]);
const load = "what=Lamp&power=500+W";
for (const [house, branch] of [["crowd90.ini", "b1"], ["motors.ini", "b"], ["branch.ini", "b"], ["deep.ini", "b"], ["many.ini", "b1"]]) {
  const site = await start(house);
  for (const path of ["/", `/branch/${branch}`, `/class/${branch}`, "/cost", "/cost/day", `/cost/day?of=${branch}`, "/fault", "/files",
    `/appliance?${load}`, `/appliance?${load}&at=branch:${branch}`, "/api/check", "/api/day"]) {
    const before = used(site);
    const status = await ask(site, path);
    const took = used(site) - before;
    result(status === "200" && took <= most, `${house} ${path}`, `status ${status}, ${took.toFixed(2)} s of processor time`);
  }
  site.child.kill("SIGTERM");
  await site.ended;
}

// While a long file is made the page goes on answering; asked to end then, it ends with what it started.
{
  const site = await start("many.ini");
  await ask(site, "/style.css");
  let ended = false;
  const long = ask(site, "/files/report.html").then((status) => { ended = true; return status; });
  await wait(100);
  let beside = 0;
  for (let i = 0; i < 5 && !ended; i += 1) {
    const status = await ask(site, "/solve");
    beside += !ended && status === "200" ? 1 : 0;
  }
  const status = await long;
  result(beside === 5 && status === "200", "others are answered while a report is made", `${beside} of 5, report ${status}`);
  const second = ask(site, "/files/report.html");
  await wait(200);
  const asked = Date.now();
  site.child.kill("SIGTERM");
  const end = await site.ended;
  result(end.status === 0 && Date.now() - asked < 5000, "asked to end while a report is made", `${JSON.stringify(end)}, ${Date.now() - asked} ms`);
  result((await second) !== "200", "what was being made is refused then", "it was answered");
  const left = running().filter((line) => line.includes(folder));
  result(left.length === 0, "nothing of it is left", left.join("; "));
}

// The largest lesson that the page makes: a sheet of text, a page and a place in the PDF for each of 40. On a machine with
// so much other work that twenty seconds by the clock are over first, the page says so.
{
  const site = await start("branch.ini");
  const before = used(site);
  const status = await ask(site, "/files/lesson.zip?students=40&questions=20&level=4&seed=0");
  const took = used(site) - before;
  const made = status === "200" || (status === "503" && took < most);
  result(made && took <= 2 * most, "lesson.zip, 40 sheets of 20 questions", `status ${status}, ${took.toFixed(2)} s of processor time`);
  site.child.kill("SIGTERM");
  await site.ended;
}

// Many are waiting when it is asked to end: the one being answered is the last.
let site = await start("many.ini");
for (let i = 0; i < 30; i += 1) ask(site, `/appliance?${load}&n=${i}`);
await wait(300);
let before = used(site);
let last = before;
site.child.kill("SIGTERM");
const watch = setInterval(() => { last = Number.isNaN(used(site)) ? last : used(site); }, 20);
const { status } = await site.ended;
clearInterval(watch);
result(status === 0 && last - before <= 1.5 * most, "asked to end while thirty wait", `status ${status}, ${(last - before).toFixed(2)} s of processor time`);

// Asked twice it does not even finish that one.
site = await start("many.ini");
ask(site, `/appliance?${load}`);
await wait(300);
before = used(site);
last = before;
site.child.kill("SIGINT");
await wait(100);
site.child.kill("SIGINT");
const again = setInterval(() => { last = Number.isNaN(used(site)) ? last : used(site); }, 20);
const second = await site.ended;
clearInterval(again);
result((second.signal !== null || second.status === 0) && last - before <= most / 4 + 0.2, "asked to end twice", `${JSON.stringify(second)}, ${(last - before).toFixed(2)} s`);

rmSync(folder, { recursive: true });
finish();
