// `serve --open`: the desktop's opener gets a file that lets in once; without one a sentence says so and the page is served.
import { spawn } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { check, demo, program, raw, same, scratch, test, visit } from "./lib.mjs";

// Served with a PATH of its own. `end` stops it and gives its status.
async function served(path, ...options) {
  const child = spawn(program, ["serve", demo("us.ini"), ...options],
    { cwd: scratch, stdio: ["ignore", "pipe", "pipe"], env: { ...process.env, PATH: path } });
  const all = { printed: "", said: "" };
  child.stdout.on("data", (bytes) => { all.printed += bytes; });
  child.stderr.on("data", (bytes) => { all.said += bytes; });
  const ended = new Promise((resolve) => child.on("exit", resolve));
  await until(() => all.printed.includes("Ctrl-C"));
  const found = /(http:\/\/127\.0\.0\.1:(\d+))\/enter\?key=([0-9a-f]{32})/.exec(all.printed);
  return { all, address: found[0], port: Number(found[2]), cookie: `ampsum-${found[2]}=${found[3]}`,
    end: async () => { child.kill("SIGINT"); return ended; } };
}

async function until(holds) {
  const begun = Date.now();
  while (!holds()) {
    check(Date.now() - begun < 10000, "waited for too long");
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

function opener(name, body) {
  const folder = join(scratch, name);
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "xdg-open"), `#!/bin/sh\n${body}\n`);
  chmodSync(join(folder, "xdg-open"), 0o755);
  return folder;
}

export async function open() {
  await test("--open gives the desktop's opener a file that lets one browser in, and no key", async () => {
    const note = join(scratch, "opened");
    const folder = opener("opens", `printf '%s\\n' "$#" "$@" >'${note}.part' && mv '${note}.part' '${note}'`);
    const site = await served(`${folder}:${process.env.PATH}`, "--open");
    await until(() => existsSync(note));
    const [count, file, rest] = readFileSync(note, "utf8").split("\n");
    same(count, "1", "words given to the opener");
    check(/^\/.*\/ampsum-\w{6}\.html$/.test(file) && rest === "", file);
    // A browser that comes from the file arrives at the house, though it sends no cookie on another's behalf.
    const page = await visit({ enter: `file://${file}` });
    await page.waitForURL(`http://127.0.0.1:${site.port}/`);
    check((await page.textContent("h1")).length > 0, "the house is shown");
    await page.context().close();
    same(await site.end(), 0, "status");
    check(!existsSync(file), "the file is gone");
  });
  await test("without --open nothing is started", async () => {
    const note = join(scratch, "not-opened");
    const site = await served(`${opener("idle", `: >'${note}'`)}:${process.env.PATH}`);
    same((await raw(site)).status, 200, "served");
    same(await site.end(), 0, "status");
    check(!existsSync(note), "nothing was opened");
  });
  await test("no opener: a plain sentence, and the page is served all the same", async () => {
    const folder = join(scratch, "nothing-here");
    mkdirSync(folder, { recursive: true });
    const site = await served(folder, "--open");
    await until(() => site.all.said.includes("\n"));
    same(site.all.said, "ampsum: no browser could be started; open the address above\n", "the sentence");
    same((await raw(site)).status, 200, "served");
    same(await site.end(), 0, "status");
  });
  await test("an opener that fails, prints or never ends stops nothing", async () => {
    const folder = opener("odd", "echo words; echo more >&2; exec sleep 20");
    const site = await served(`${folder}:${process.env.PATH}`, "--open");
    same((await raw(site)).status, 200, "served");
    same(await site.end(), 0, "status");
    same(site.all.said, "", "nothing of it is in our words");
    check(!site.all.printed.includes("words"), site.all.printed);
  });
}
