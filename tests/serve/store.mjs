// The page's store on a full disk, and ended at any moment (TAP).   node store.mjs PROGRAM HOUSE.ini [KILLS]
// A full disk is a small file system in memory that this mounts in a view of its own, where it may; else those are left out.
import { execFileSync, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { begin, finish, result, skip, wait } from "./tap.mjs";

const [program, house, given] = process.argv.slice(2);
const kills = Number(given ?? "12");
const folder = mkdtempSync(join(tmpdir(), "ampsum-store-"));
process.env.XDG_STATE_HOME = folder; // of this test alone
const file = join(folder, "house.db");
begin("store");

async function started(child) {
  const ended = new Promise((done) => child.on("exit", done));
  let printed = "";
  child.stdout.on("data", (bytes) => (printed += bytes));
  for (let i = 0; i < 600; i += 1) {
    const found = /127\.0\.0\.1:(\d+)\/enter\?key=([0-9a-f]{32})/.exec(printed);
    if (found) return { child, ended, port: Number(found[1]), key: found[2] };
    await wait(50);
  }
  throw new Error(`not started: ${printed}`);
}

// One request; its whole answer, "" where the program ended meanwhile.
function ask(site, path, fields = null) {
  return new Promise((done) => {
    const body = fields === null ? "" : new URLSearchParams(fields).toString();
    const head = [
      `${fields === null ? "GET" : "POST"} ${path} HTTP/1.1`, `Host: 127.0.0.1:${site.port}`, "Connection: close",
      `Cookie: ampsum-${site.port}=${site.key}`, `Origin: http://127.0.0.1:${site.port}`,
      "Content-Type: application/x-www-form-urlencoded", `Content-Length: ${body.length}`, "", body,
    ];
    const socket = connect(site.port, "127.0.0.1");
    let answer = "";
    const end = () => { socket.destroy(); done(answer); };
    setTimeout(end, 30000).unref();
    socket.on("data", (bytes) => (answer += bytes));
    socket.on("error", end);
    socket.on("close", end);
    socket.write(head.join("\r\n"));
  });
}

// Stores a new label of a branch as the page's own form does; the answer.
async function rename(site, label) {
  const form = await ask(site, "/build/correct/branch/bedroom");
  const [, token] = /name="token" value="([0-9a-f]{32})"/.exec(form) ?? ["", ""];
  const [, seen] = /name="seen" value="([^"]*)"/.exec(form) ?? ["", ""];
  return ask(site, "/build/set", { token, seen, kind: "branch", id: "bedroom", label });
}

const words = (answer) => answer.replace(/^[\s\S]*?\r\n\r\n/, "").replace(/<[^>]*>/g, " ").replace(/\s+/g, " ");
const house_of = (path) => execFileSync(program, ["export", path], { encoding: "utf8" });
const label_of = (text) => /\[branch bedroom\]\nlabel = (.*)/.exec(text)?.[1];

execFileSync(program, ["import", house, "-o", file]);
const before = house_of(file);

// ---- a full disk: all of it is taken but what the file has already

const script = `mount -t tmpfs -o size=640k none "$2" && cp "$1" "$2/house.db" || exit 77
head -c 1000000 /dev/zero >"$2/fill" 2>/dev/null
"$3" serve "$2/house.db" & echo $! >"$4/server"
wait $!
rm "$2/fill"
"$3" export "$2/house.db" >"$4/after.ini" && "$3" log "$2/house.db" >"$4/log"`;

async function on_a_full_disk() {
  const names = ["the page says that the disk is full and nothing was changed", "it goes on showing the house", "the house is whole, and as it was"];
  const view = join(folder, "view");
  execFileSync("mkdir", [view]);
  const child = spawn("unshare", ["-rm", "sh", "-c", script, "sh", file, view, program, folder], { stdio: ["ignore", "pipe", "ignore"] });
  const refused = new Promise((done) => { child.on("exit", () => done(null)); child.on("error", () => done(null)); });
  const site = await Promise.race([started(child), refused]);
  if (site === null) {
    for (const name of names) skip(name, "no file system of one's own can be mounted here");
    return;
  }
  const answer = words(await rename(site, "Renamed on a full disk"));
  result(/the disk is full, nothing was changed/i.test(answer), names[0], answer.slice(0, 600));
  const again = await ask(site, "/");
  result(again.startsWith("HTTP/1.1 200") && !again.includes("Renamed on a full disk"), names[1], words(again).slice(0, 300));
  process.kill(Number(readFileSync(join(folder, "server"), "utf8")), "SIGTERM");
  await site.ended;
  const after = existsSync(join(folder, "after.ini")) ? readFileSync(join(folder, "after.ini"), "utf8") : "";
  result(after === before, names[2], label_of(after));
}

await on_a_full_disk();

// ---- ended without warning while it stores: what it said was stored is there, whatever else is whole

let lost = "";
let stored = 0;
let unsaid = 0;
let kept = label_of(before);
for (let i = 0; i < kills; i += 1) {
  const site = await started(spawn(program, ["serve", file], { stdio: ["ignore", "pipe", "ignore"] }));
  const asked = [];
  const enough = 1 + (i % 3); // stored changes; then a little later, at another moment each time
  let killed = null;
  for (let k = 0; k < 100 && site.child.exitCode === null && site.child.signalCode === null; k += 1) {
    const label = `Name ${i} ${k}`;
    const answer = await rename(site, label);
    asked.push({ label, said: answer.startsWith("HTTP/1.1 303") });
    if (killed === null && asked.filter((one) => one.said).length === enough) {
      killed = wait(3 * i).then(() => site.child.kill("SIGKILL"));
    }
    if (answer === "") break;
  }
  await killed;
  await site.ended;
  const now = label_of(house_of(file)); // ends the test where the file is damaged
  const said = asked.filter((one) => one.said).map((one) => one.label);
  const last = said.at(-1) ?? kept;
  const open = asked.find((one) => !one.said)?.label;
  if (now !== last && now !== open) lost = `${now}, but ${last} was said to be stored`;
  stored += said.length;
  unsaid += now === open && now !== last ? 1 : 0;
  kept = now;
}
result(lost === "" && stored >= kills, `${kills} times ended while it stores: nothing that it said was stored is lost`, `${lost} stored ${stored}`);
console.log(`# ${stored} changes stored, ${unsaid} stored that could no longer be said`);
const log = execFileSync(program, ["log", file], { encoding: "utf8" });
result((log.match(/page: correct branch/g) ?? []).length === stored + unsaid, "each of them stands in the journal, once", `${stored} ${unsaid}`);
for (let i = 0; i < stored + unsaid; i += 1) execFileSync(program, ["undo", file]);
result(house_of(file) === before, "and taken back one by one they give the first house");

rmSync(folder, { recursive: true, force: true });
finish();
