// Nobody else gets in, and bad input is met with an answer; requests are written by hand.
import net from "node:net";
import { join } from "node:path";
import { spawn } from "node:child_process";
import { renameSync, writeFileSync, unlinkSync } from "node:fs";
import { ampsum, check, houseText, copy, database, demo, openBrowser, post, raw, same, scratch, secrets, serve, test } from "./lib.mjs";

const MB = 1 << 20;

async function guardTests(site) {
  const { port } = site;
  await test("the printed address lets a browser in, others stay out", async () => {
    const enter = await raw(site, { path: `/enter?key=${site.key}`, cookie: "" });
    same(enter.status, 303, "enter");
    check(/Set-Cookie: ampsum-\d+=[0-9a-f]{32}; Path=\/; HttpOnly; SameSite=Strict/.test(enter.head), enter.head);
    same((await raw(site, { path: "/", cookie: "" })).status, 403, "no cookie");
    same((await raw(site, { path: `/enter?key=${"0".repeat(32)}`, cookie: "" })).status, 403, "wrong key");
    same((await raw(site, { path: "/", cookie: `ampsum-${port}=${"0".repeat(32)}` })).status, 403, "wrong cookie");
    const outside = await raw(site, { path: "/", cookie: "" });
    check(!outside.body.includes("Larkspur") && !outside.body.includes("ampsum-token"), "a stranger's page holds nothing");
  });
  await test("Host is exactly ours, once", async () => {
    for (const host of ["evil.example", `evil.example:${port}`, "127.0.0.1", `127.0.0.1:${port + 1}`, `127.0.0.2:${port}`]) {
      same((await raw(site, { host })).status, 421, host);
    }
    same((await raw(site, { host: `localhost:${port}` })).status, 200, "localhost");
    same((await raw(site, { host: null })).status, 400, "no Host");
    same((await raw(site, { headers: ["Host: evil.example"] })).status, 400, "two Hosts");
    same((await raw(site, { host: "evil.example", headers: [`Host: 127.0.0.1:${port}`] })).status, 400, "two Hosts, ours last");
  });
  await test("no header may come twice", async () => {
    for (const header of ["Origin: http://a", "X-Ampsum-Token: 1", "Accept: */*", `Cookie: ${site.cookie}`]) {
      same((await raw(site, { headers: [header, header] })).status, 400, header);
    }
  });
  await test("headers: strict policy, nothing shared, nothing kept", async () => {
    const { head } = await raw(site);
    for (const line of ["Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
      + "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
      "X-Content-Type-Options: nosniff", "Referrer-Policy: same-origin", "Cross-Origin-Opener-Policy: same-origin",
      "Cross-Origin-Resource-Policy: same-origin", "Cache-Control: no-store"]) {
      check(head.includes(line), `missing: ${line}`);
    }
    const asked = await raw(site, { method: "OPTIONS", headers: ["Origin: http://evil.example",
      "Access-Control-Request-Method: POST"] });
    same(asked.status, 405, "preflight");
    check(!/access-control/i.test(head + asked.head), "no CORS header");
  });
  await test("other methods are refused", async () => {
    for (const method of ["PUT", "DELETE", "PATCH", "TRACE"]) { same((await raw(site, { method })).status, 405, method); }
    const head = await raw(site, { method: "HEAD" });
    same([head.status, head.body], [200, ""], "HEAD");
  });
  await test("a change needs our Origin, a form, and the token of this start", async () => {
    const { token, seen } = await secrets(site);
    const fields = { token, seen, kind: "room", name: "Not to be" };
    const before = houseText(site.path);
    for (const origin of [null, "null", "http://evil.example", `https://127.0.0.1:${port}`, `http://localhost:${port}`]) {
      same((await post(site, "/build/add", fields, { origin })).status, 403, `Origin ${origin}`);
    }
    for (const wrong of ["", "0".repeat(32), token.slice(1), site.key]) {
      same((await post(site, "/build/add", { ...fields, token: wrong })).status, 403, `token ${wrong}`);
    }
    same((await post(site, "/build/add", fields, { headers: ["Sec-Fetch-Site: cross-site"] })).status, 403, "cross-site");
    same((await post(site, "/build/add", fields, { type: "text/plain" })).status, 415, "text/plain");
    same((await post(site, "/build/add", fields, { cookie: "a=b" })).status, 403, "no cookie");
    same((await post(site, "/build/add", fields, { host: "evil.example" })).status, 421, "foreign host");
    same(houseText(site.path), before, "the house");
  });
  await test("GET never changes anything", async () => {
    const { token, seen } = await secrets(site);
    const before = houseText(site.path);
    const query = new URLSearchParams({ token, seen, kind: "room", name: "Not to be", what: "Heater", rating: "1500",
      unit: "W", at: "branch:bath" });
    for (const path of ["/build/add", "/build/remove", "/build/set", "/build/undo", "/appliance/keep", "/undo", "/redo"]) {
      same((await raw(site, { path: `${path}?${query}` })).status, 405, path);
    }
    for (const path of ["/", "/appliance", "/api/place", "/api/try", "/build", "/changes"]) {
      same((await raw(site, { path: `${path}?${query}` })).status, 200, path);
    }
    same(houseText(site.path), before, "the house");
  });
}

async function badInputTests(site) {
  await test("10 MB bodies are refused, told and untold", async () => {
    const { token } = await secrets(site);
    const told = await raw(site, { method: "POST", path: "/build/add", body: "a=1", headers: [`Content-Length: ${10 * MB}`,
      `Origin: ${site.base}`, "Content-Type: application/x-www-form-urlencoded"] });
    same(told.status, 413, "10 MB told");
    const sent = await post(site, "/build/add", {}, { body: "a=" + "x".repeat(10 * MB) }).catch((fault) => fault);
    check(sent.status === 413 || ["EPIPE", "ECONNRESET"].includes(sent.code), `10 MB sent: ${sent.status} ${sent.code}`);
    const chunk = `10000\r\n${"x".repeat(0x10000)}\r\n`;
    const chunked = await raw(site, { method: "POST", path: "/build/add", body: chunk.repeat(3) + "0\r\n\r\n", headers: [
      "Transfer-Encoding: chunked", `Origin: ${site.base}`, "Content-Type: application/x-www-form-urlencoded",
      `X-Ampsum-Token: ${token}`] });
    same(chunked.status, 413, "200 kB in chunks");
    same((await raw(site, { headers: ["X-Long: " + "x".repeat(40000)] })).status, 431, "40 kB header");
    same((await raw(site)).status, 200, "goes on");
  });
  await test("a form of 64 kB is read, a byte more is not", async () => {
    const { token } = await secrets(site);
    const start = `token=${token}&on=&filler=`;
    const fill = (bytes) => start + ",".repeat(bytes - start.length);
    same((await post(site, "/api/check", {}, { body: fill(65536) })).status, 200, "64 kB");
    same((await post(site, "/api/check", {}, { body: fill(65537) })).status, 413, "one more");
  });
  await test("a form of very many fields is refused", async () => {
    const { token } = await secrets(site);
    const body = (count) => new URLSearchParams({ token, seen: "1", kind: "room" }) + "&a=b".repeat(count - 3);
    same((await post(site, "/build/set", {}, { body: body(4096) })).status, 409, "4,096 are read");
    same((await post(site, "/build/set", {}, { body: body(4097) })).status, 400, "one more");
  });
  await test("slow and half-open clients hold nobody up", async () => {
    const sockets = [];
    for (let i = 0; i < 20; i++) {
      const socket = net.connect(site.port, "127.0.0.1");
      socket.on("error", () => {});
      socket.write(i % 2 === 0 ? "GET / HTTP/1.1\r\nHost: 127" : "");
      sockets.push(socket);
    }
    const begun = Date.now();
    same((await raw(site)).status, 200, "an ordinary request");
    check(Date.now() - begun < 2000, "answered at once");
    const closed = new Promise((resolve) => sockets[0].on("close", resolve));
    sockets[0].resume();
    const late = await Promise.race([closed.then(() => "closed"), new Promise((resolve) => setTimeout(resolve, 14000, "open"))]);
    same(late, "closed", "a half request after 10 s");
    for (const socket of sockets) { socket.destroy(); }
  });
  await test("what is no text is refused", async () => {
    const { token } = await secrets(site);
    for (const body of ["name=%FF", "name=%00", "name=%E2%80%AEx", "name=%"]) {
      same((await post(site, "/build/add", {}, { body: `token=${token}&${body}` })).status, 400, body);
    }
    for (const path of ["/?on=%FF", "/?on=a%00b", "/branch/%FF", "/?%1b=1"]) {
      same((await raw(site, { path })).status, 400, path);
    }
  });
  await test("IDs that do not exist name the nearest", async () => {
    for (const path of ["/branch/bedrom", "/class/bedrom", "/api/branch/bedrom", "/?scene=breakfst", "/?on=ketle",
      "/api/check?on=ketle", "/cost/day?of=bedrom", "/branch/", "/branch/../bedroom", "/files/../../etc/passwd", "/nothing"]) {
      same((await raw(site, { path })).status, 404, path);
    }
    check((await raw(site, { path: "/branch/bedrom" })).body.includes("bedroom"), "the nearest");
    const api = await raw(site, { path: "/api/branch/bedrom" });
    check(JSON.parse(api.body).error.includes("nearest is bedroom"), "as JSON");
  });
}

async function databaseTests() {
  await test("a database replaced or locked while served: a clear page, then on", async () => {
    const path = database("replaced.db");
    const site = await serve(path);
    const other = database("other.db", "uk.ini");
    same((await raw(site)).status, 200, "at first");
    renameSync(other, path);
    const uk = await raw(site);
    same(uk.status, 200, "replaced by another house");
    check(!uk.body.includes("Larkspur"), "shows the other house");
    writeFileSync(path, "no database at all, but some text that is long enough to be looked at as a header");
    const broken = await raw(site);
    same(broken.status, 503, "replaced by rubbish");
    check(broken.body.includes(">Try again</a>"), "a way on");
    check(broken.body.includes("read now"), broken.body);
    unlinkSync(path);
    check([303, 503].includes((await raw(site)).status), "gone");
    copy(database("third.db"), path);
    same((await raw(site)).status, 200, "there again");
    const { token, seen } = await secrets(site);
    const locker = spawn("sqlite3", [path], { stdio: ["pipe", "pipe", "inherit"] });
    locker.stdin.write("BEGIN EXCLUSIVE; SELECT 'held';\n");
    await new Promise((resolve) => locker.stdout.once("data", resolve));
    const begun = Date.now();
    const change = await post(site, "/build/add", { token, seen, kind: "room", name: "Attic" });
    same(change.status, 503, "a change while another program holds the database");
    check(/locked|in use|busy|another program/i.test(change.body) && change.body.includes("what you typed is still there"), change.body);
    check(Date.now() - begun < 12000, "waits no longer than 12 s");
    locker.stdin.end("ROLLBACK;\n");
    await new Promise((resolve) => locker.on("exit", resolve));
    same((await raw(site)).status, 200, "after the lock");
    same((await post(site, "/build/add", { token, seen, kind: "room", name: "Attic" })).status, 303, "and so is a change");
    same(await site.stop(), 0, "stops");
  });
  await test("a house file is served for reading only", async () => {
    const site = await serve(demo("us.ini"));
    const page = await raw(site);
    check(page.body.includes("read only"), "says so");
    same((await raw(site, { path: "/build" })).status, 404, "no building");
    const { token } = await secrets(site, "/");
    same((await post(site, "/build/add", { token, kind: "room", name: "x" })).status, 403, "no change");
    same((await post(site, "/appliance/keep", { token, what: "Heater" })).status, 403, "no keeping");
    same((await post(site, "/api/check", { token, on: "kettle" })).status, 200, "switching is reading");
    same(await site.stop(), 0, "stops");
  });
  await test("--read-only, --port and a port in use", async () => {
    const path = database("reading.db");
    const site = await serve(path, "--read-only");
    const { token } = await secrets(site, "/");
    same((await post(site, "/build/add", { token, kind: "room", name: "x" })).status, 403, "no change");
    let message = "";
    try { ampsum("serve", path, "--port", String(site.port)); } catch (fault) { message = fault.stderr; same(fault.status, 2, "status"); }
    check(/Address already in use/.test(message), message);
    await site.stop("SIGTERM");
    const again = await serve(path, "--fresh", "--port", String(site.port));
    same(again.port, site.port, "the port that was asked for");
    check(again.key !== site.key, "a fresh key where it is asked for");
    same((await raw(again, { cookie: site.cookie })).status, 403, "the old key is worth nothing");
    same(await again.stop(), 0, "Ctrl-C");
    check(again.printed().includes("Stopped"), "says that it stopped");
  });
}

async function dashTest() {
  await test("a house whose name begins with a dash is no option of a command", async () => {
    copy(database("dash.db"), join(scratch, "-dash.db"));
    const site = await serve("--", "-dash.db");
    for (const path of ["/files/branches.csv", "/files/report.pdf", "/api/cost", "/api/place?what=Heater&rating=100&unit=W"]) {
      same((await raw(site, { path })).status, 200, path);
    }
    await site.stop();
  });
}

async function rebindingTest(site) {
  await test("a name that is made to point here gets nothing (rebinding, in the browser)", async () => {
    const browser = await openBrowser([`--host-resolver-rules=MAP evil.example 127.0.0.1`]);
    const page = await browser.newPage();
    const answer = await page.goto(`http://evil.example:${site.port}/enter?key=${site.key}`);
    same(answer.status(), 421, "status");
    check(!(await page.content()).includes("Larkspur"), "nothing of the house");
    await browser.close();
  });
}

export async function guard() {
  const path = database("guard.db");
  const site = await serve(path);
  site.path = path;
  await guardTests(site);
  await badInputTests(site);
  await rebindingTest(site);
  await databaseTests();
  await dashTest();
  await test("Ctrl-C stops it with nothing lost", async () => {
    const before = houseText(path);
    same(await site.stop(), 0, "status");
    same(houseText(path), before, "the house");
  });
}
