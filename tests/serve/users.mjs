// Two users of one computer, and connections that say nothing (TAP).   node users.mjs PROGRAM HOUSE
// The second user is made where this runs as root; elsewhere those tests are left out.
import { spawn } from "node:child_process";
import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { begin, finish, result, skip, wait } from "./tap.mjs";

const [program, house] = process.argv.slice(2);
const NOBODY = 65534;
begin("serve");

async function start(options = [], env = {}) {
  const child = spawn(program, ["serve", house, ...options], { env: { ...process.env, ...env } });
  let printed = "";
  child.stdout.on("data", (bytes) => (printed += bytes));
  for (let i = 0; i < 200; i += 1) {
    const found = /127\.0\.0\.1:(\d+)\/enter\?key=([0-9a-f]{32})/.exec(printed);
    if (found) return { child, port: Number(found[1]), key: found[2] };
    await wait(50);
  }
  throw new Error(`not started: ${printed}`);
}

const stop = (site) => new Promise((done) => {
  site.child.on("exit", done);
  site.child.kill("SIGTERM");
});

// One request as bytes; what comes back until the connection ends or the time is over.
function ask(site, path, { cookie = `ampsum-${site.port}=${site.key}`, more = "", ms = 4000 } = {}) {
  return new Promise((done) => {
    const socket = connect(site.port, "127.0.0.1");
    let answer = "";
    const end = () => { socket.destroy(); done(answer); };
    setTimeout(end, ms).unref();
    socket.on("data", (bytes) => (answer += bytes));
    socket.on("error", end);
    socket.on("close", end);
    socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${site.port}\r\nConnection: close\r\nCookie: ${cookie}\r\n${more}\r\n`);
  });
}

// The same in a process of another user.
function askAs(user, site, path) {
  return new Promise((done) => {
    const code = `import { connect } from "node:net"; const s = connect(${site.port}, "127.0.0.1"); s.on("data", (b) => process.stdout.write(b));
      s.on("error", () => {}); s.write(${JSON.stringify(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${site.port}\r\nConnection: close\r\nCookie: ampsum-${site.port}=${site.key}\r\n\r\n`)});
      setTimeout(() => process.exit(0), 3000);`;
    const child = spawn(process.execPath, ["--input-type=module", "-e", code], { uid: user, gid: user, cwd: "/", env: {} });
    let answer = "";
    let fault = "";
    child.stdout.on("data", (bytes) => (answer += bytes));
    child.stderr.on("data", (bytes) => (fault += bytes));
    child.on("exit", (status) => done({ answer, fault, status }));
  });
}

const holders = [];
async function hold(site, count, bytes) {
  for (let i = 0; i < count; i += 1) {
    const socket = connect(site.port, "127.0.0.1");
    socket.on("error", () => {});
    if (bytes) socket.write(bytes);
    holders.push(socket);
  }
  await wait(500);
}

let site = await start();
result((await ask(site, "/")).startsWith("HTTP/1.1 200"), "the person who started it is let in");
if (process.getuid() === 0) {
  // With the very key, as a stolen cookie has it.
  const { answer, fault, status } = await askAs(NOBODY, site, "/");
  result(status === 0 && fault === "" && answer === "", "another user gets nothing, even with the key", answer + fault);
  const entered = await askAs(NOBODY, site, `/enter?key=${site.key}`);
  result(entered.status === 0 && entered.answer === "", "nor by the printed address", entered.answer);
} else {
  skip("another user gets nothing, even with the key", "only root can be another user, too");
  skip("nor by the printed address", "only root can be another user, too");
}

// A browser sends its cookies to each port of a host: a page from another port may not read with them.
for (const [from, status] of [["same-site", 403], ["cross-site", 403], ["none", 200], ["same-origin", 200]]) {
  const answer = await ask(site, "/", { more: `Sec-Fetch-Site: ${from}\r\n` });
  result(answer.startsWith(`HTTP/1.1 ${status}`), `a request ${from} is ${status === 200 ? "answered" : "refused"}`, answer.slice(0, 80));
}

// Connections that never say who they are, more than there are places.
await hold(site, 400, "");
let began = Date.now();
let answer = await ask(site, "/");
result(answer.startsWith("HTTP/1.1 200") && Date.now() - began < 4000, "400 connections that say nothing", `${Date.now() - began} ms ${answer.slice(0, 60)}`);
await hold(site, 400, "GET / HTTP/1.1\r\nHost: 127");
began = Date.now();
answer = await ask(site, "/");
result(answer.startsWith("HTTP/1.1 200") && Date.now() - began < 4000, "half a head each", `${Date.now() - began} ms ${answer.slice(0, 60)}`);
holders.forEach((socket) => socket.destroy());
await wait(300);

// A head that comes a byte at a time is given up, however alive its connection looks.
const closed = await new Promise((done) => {
  const socket = connect(site.port, "127.0.0.1");
  const started = Date.now();
  socket.write("GET / HTTP/1.1\r\n");
  const drip = setInterval(() => socket.write("x"), 500);
  const end = (good) => { clearInterval(drip); socket.destroy(); done(good); };
  socket.on("error", () => {});
  socket.on("close", () => end(Date.now() - started < 9000));
  setTimeout(() => end(false), 12000).unref();
});
result(closed, "a head that drips in is cut off");
await stop(site);

// --open: nothing in any command line lets in, and the file that does is read by one person, and works once.
const folder = mkdtempSync(join(tmpdir(), "ampsum-open-"));
process.env.XDG_STATE_HOME = folder; // of this test alone
writeFileSync(join(folder, "xdg-open"), `#!/bin/sh\nprintf '%s\\n' "$@" >${folder}/words.tmp\nmv ${folder}/words.tmp ${folder}/words\n`);
chmodSync(join(folder, "xdg-open"), 0o755);
site = await start(["--open"], { PATH: `${folder}:${process.env.PATH}`, XDG_RUNTIME_DIR: folder });
let words = "";
for (let i = 0; i < 100 && words === ""; i += 1) {
  await wait(50);
  try { words = readFileSync(join(folder, "words"), "utf8").trim(); } catch { /* not there yet */ }
}
result(words.endsWith(".html") && !words.includes("key") && !/[0-9a-f]{32}/.test(words), "the browser is told of a file, not of the key", words);
const mode = words ? statSync(words).mode & 0o777 : 0;
result(mode === 0o600, "which the person alone can read", mode.toString(8));
const entry = /url=http:\/\/127\.0\.0\.1:\d+(\/enter\?key=[0-9a-f]{32})/.exec(words ? readFileSync(words, "utf8") : "");
const first = entry ? await ask(site, entry[1], { cookie: "", more: "Sec-Fetch-Site: cross-site\r\n" }) : "";
result(first.startsWith("HTTP/1.1 200") && first.includes(`ampsum-${site.port}=${site.key}`) && first.includes("url=/"), "it lets a browser in", first.slice(0, 200));
const second = entry ? await ask(site, entry[1], { cookie: "" }) : "";
result(second.startsWith("HTTP/1.1 403"), "once", second.slice(0, 60));
await stop(site);
let there = true;
try { statSync(words); } catch { there = false; }
result(!there, "and it is gone when the program ends");
rmSync(folder, { recursive: true });

finish();
