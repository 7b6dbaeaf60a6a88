// Two editors at once, page and command line: the later one is told truly what was changed, and nothing is lost.
import { ampsum, check, database, houseText, post, same, secrets, serve, test, visit } from "./lib.mjs";

const main = (page) => page.locator("main").innerText();
const power = (path, watt) => ampsum("set", path, "appliance", "kettle", `power=${watt} W`);
const keepLamp = { what: "Owl lamp", rating: "40", unit: "W", at: "branch:study", use: "20:00-21:00, 21:30-22:00" };

async function forms() {
  await test("a form opened before the house was changed: what was done, what was typed, then both are there", async () => {
    const path = database("two.db");
    const site = await serve(path);
    const page = await visit(site);
    await page.goto(site.base + "/appliance?" + new URLSearchParams(keepLamp));
    power(path, 1400);
    await page.locator('form[action="/appliance/keep"] button').click();
    const text = await main(page);
    check(text.includes("changed meanwhile") && text.includes("1500 W") && text.includes("1400 W"), text);
    same(await page.locator('[name="what"]').inputValue(), "Owl lamp", "what was typed");
    same(await page.locator('[name="use"]').inputValue(), "20:00-21:00, 21:30-22:00", "all of it");
    check(!houseText(path).includes("Owl lamp"), "not stored yet");
    await page.locator("main form button").click();
    const house = houseText(path);
    check(house.includes("name = Owl lamp") && house.includes("power = 1400 W"), "both changes are there");
    check(/name = Owl lamp\n(.+\n)*use = 20:00-21:00, 21:30-22:00\n/.test(house), "with its times");
    await page.context().close();
    await site.stop();
  });
  await test("both correct the same appliance: what differs stands beside what the house says now, and nothing else", async () => {
    const path = database("correct.db");
    const site = await serve(path);
    const page = await visit(site);
    await page.goto(site.base + "/build/correct/appliance/kettle");
    const form = page.locator('form[action="/build/set"]');
    await form.locator('[name="rating"]').fill("1200");
    ampsum("set", path, "appliance", "kettle", "power=1400 W", "use=06:00-06:10");
    await form.locator("button").last().click();
    const labels = await page.locator("main form label").allInnerTexts();
    same(labels.length, 2, labels.join("\n"));
    check(labels.some((one) => one.includes("The house says now: 1400")) && labels.some((one) => one.includes("The house says now: 06:00-06:10")), labels.join("\n"));
    check((await main(page)).includes("power 1500 W -> 1400 W"), "what was done");
    await page.locator('main form [name="use"]').fill("06:00-06:10");
    await page.locator("main form button").click();
    const house = /\[appliance kettle\]\n((?:.+\n)*)/.exec(houseText(path))[1];
    check(house.includes("power = 1200 W") && house.includes("use = 06:00-06:10"), house);
    check(ampsum("log", path).includes("1400 W -> 1200 W"), "the change is told as it was");
    await page.context().close();
    await site.stop();
  });
  await test("both correct the same outlet: its rating is told as the house says it", async () => {
    const path = database("outlet.db");
    const site = await serve(path);
    const { token, seen } = await secrets(site);
    ampsum("set", path, "outlet", "bd-1", "rating=20 A");
    const told = await post(site, "/build/set", { token, seen, kind: "outlet", id: "bd-1", rating: "15 A" });
    same(told.status, 409, "told");
    check(told.body.includes("The house says now: 20 A"), told.body);
    const at = await post(site, "/build/set", { token, seen, kind: "room", id: "kitchen", at: "branch:bedroom" });
    check(at.body.includes("The house says now: nothing") && !at.body.includes("null"), "a room is at no branch: " + at.body);
    await site.stop();
  });
  await test("the other one removed the same thing: told so, then a sentence, and the house stays as it is", async () => {
    const path = database("same.db");
    const site = await serve(path);
    const { token, seen } = await secrets(site);
    ampsum("remove", path, "appliance", "kettle", "--with-all");
    const fields = { token, seen, kind: "appliance", id: "kettle" };
    const told = await post(site, "/build/remove", fields);
    same(told.status, 409, "told");
    check(told.body.includes("remove") && told.body.includes("kettle") && told.body.includes("take the place"), told.body);
    const before = houseText(path);
    const again = await post(site, "/build/remove", { ...fields, ...(await secrets(site)) });
    same(again.status, 422, "nothing to remove");
    check(again.body.includes("kettle"), again.body);
    same(houseText(path), before, "the house");
    await site.stop();
  });
}

async function assent() {
  await test("an assent to remove with all holds for what was listed: after a change it is asked for anew", async () => {
    const path = database("assent.db");
    const site = await serve(path);
    const page = await visit(site);
    const all = page.locator('button[name="with_all"]');
    await page.goto(site.base + "/build/panel");
    await page.locator('.lines button[value="laundry"]').click();
    check((await main(page)).includes("would go with it"), await main(page));
    ampsum("add", path, "appliance", "owl-lamp", "name=Owl lamp", "branch=laundry", "power=40 W");
    const whole = houseText(path);
    await all.click();
    const told = await main(page);
    check(told.includes("changed meanwhile") && told.includes("owl-lamp"), told);
    same(await page.locator('[name^="with_"]').count(), 0, "no assent is sent again");
    same(houseText(path), whole, "nothing is gone");
    await page.locator("main form button").click();
    const asked = await main(page);
    check(asked.includes("Something hangs on it") && asked.includes("Owl lamp would go with it"), asked);
    same(houseText(path), whole, "nothing is gone without the new assent");
    await all.click();
    await page.waitForURL(/\/build\/panel/);
    const house = houseText(path);
    check(!house.includes("[branch laundry]") && !house.includes("Owl lamp"), "then all of it is gone");
    await page.context().close();
    await site.stop();
  });
  await test("an assent that is sent with an older state takes nothing along", async () => {
    const path = database("assent-old.db");
    const site = await serve(path);
    const { token, seen } = await secrets(site);
    ampsum("add", path, "appliance", "owl-lamp", "name=Owl lamp", "branch=bedroom", "power=40 W");
    const whole = houseText(path);
    const told = await post(site, "/build/remove", { token, seen, kind: "branch", id: "bedroom", with_all: "yes" });
    same(told.status, 409, "told");
    check(!told.body.includes("with_all"), told.body);
    same(houseText(path), whole, "the house");
    await site.stop();
  });
}

async function takenBack() {
  await test("the other one took back a change that was seen: named as taken back, and nothing else is said", async () => {
    const path = database("back.db");
    const site = await serve(path);
    power(path, 1400);
    power(path, 1300);
    const { token, seen } = await secrets(site);
    ampsum("undo", path);
    const told = await post(site, "/appliance/keep", { ...keepLamp, token, seen });
    same(told.status, 409, "told");
    const list = /<ul class="changes">(.*?)<\/ul>/s.exec(told.body)[1];
    same(list.match(/<li>/g).length, 1, list);
    check(list.includes("(taken back)") && list.includes("1300 W") && !/power 1500 W/.test(list), list);
    await site.stop();
  });
  await test("the other one took back two changes and made another: how many went, and what was made", async () => {
    const path = database("other.db");
    const site = await serve(path);
    for (const watt of [1400, 1300, 1200]) { power(path, watt); }
    const { token, seen } = await secrets(site);
    ampsum("undo", path);
    ampsum("undo", path);
    ampsum("set", path, "appliance", "toaster", "power=700 W");
    const told = await post(site, "/appliance/keep", { ...keepLamp, token, seen });
    same(told.status, 409, "told");
    const list = /<ul class="changes">(.*?)<\/ul>/s.exec(told.body)[1];
    check(list.includes("2 changes that you had seen were taken back") && list.includes("toaster"), list);
    check(!list.includes("1400 W"), "a change that still stands is no news: " + list);
    await site.stop();
  });
  await test("the other one took back what was seen, and changes of his own too: only what was seen is counted", async () => {
    const path = database("own.db");
    const site = await serve(path);
    for (const watt of [1400, 1300, 1200]) { power(path, watt); }
    const { token, seen } = await secrets(site);
    for (let i = 0; i < 2; i++) { ampsum("undo", path); }
    for (const watt of [700, 600]) { ampsum("set", path, "appliance", "toaster", `power=${watt} W`); }
    for (let i = 0; i < 2; i++) { ampsum("undo", path); }
    const told = await post(site, "/appliance/keep", { ...keepLamp, token, seen });
    same(told.status, 409, "told");
    const list = /<ul class="changes">(.*?)<\/ul>/s.exec(told.body)[1];
    check(list.includes("2 changes that you had seen were taken back") && !list.includes("toaster"), list);
    await site.stop();
  });
  await test("taken back and done again is the same house: the form goes through", async () => {
    const path = database("again.db");
    const site = await serve(path);
    power(path, 1400);
    const { token, seen } = await secrets(site);
    ampsum("undo", path);
    ampsum("undo", path, "--redo");
    same((await post(site, "/appliance/keep", { ...keepLamp, token, seen })).status, 303, "kept");
    check(houseText(path).includes("Owl lamp"), "it is in the house");
    await site.stop();
  });
}

async function undo() {
  await test("an old Undo: what was changed since, then the button for the house as it is", async () => {
    const path = database("undo.db");
    const site = await serve(path);
    power(path, 1400);
    const page = await visit(site);
    await page.goto(site.base + "/changes");
    ampsum("set", path, "appliance", "toaster", "power=700 W");
    await page.locator('form[action="/undo"] button').click();
    const text = await main(page);
    check(text.includes("nothing was undone") && text.includes("toaster") && text.includes("700 W"), text);
    check(!text.includes("1400 W"), "what was seen is no news: " + text);
    check(/It would take back:[^]*toaster/.test(text.split("Undo, as the house is now")[1]), text);
    check(houseText(path).includes("power = 700 W"), "not undone");
    await page.locator('form[action="/undo"] button').click();
    const house = houseText(path);
    check(!house.includes("power = 700 W") && house.includes("power = 1400 W"), "that one is undone, the other stands");
    await page.context().close();
    await site.stop();
  });
  await test("an old Redo after another change: told, and nothing is left to do again", async () => {
    const path = database("redo.db");
    const site = await serve(path);
    power(path, 1400);
    ampsum("undo", path);
    const page = await visit(site);
    await page.goto(site.base + "/changes");
    ampsum("set", path, "appliance", "toaster", "power=700 W");
    await page.locator('form[action="/redo"] button').click();
    const text = await main(page);
    check(text.includes("nothing was done again") && text.includes("700 W") && text.includes("nothing left to do again"), text);
    same(await page.locator('form[action="/redo"]').count(), 0, "no button");
    check(houseText(path).includes("power = 700 W"), "as it was");
    await page.context().close();
    await site.stop();
  });
  await test("the changes offer no button for what is not there", async () => {
    const path = database("none.db");
    const site = await serve(path);
    const page = await visit(site);
    const buttons = async () => { await page.goto(site.base + "/changes"); return page.locator("main form").evaluateAll((all) => all.map((one) => one.getAttribute("action"))); };
    same(await buttons(), [], "nothing changed yet");
    power(path, 1400);
    same(await buttons(), ["/undo"], "one change");
    ampsum("undo", path);
    same(await buttons(), ["/redo"], "taken back");
    await page.context().close();
    await site.stop();
  });
}

export async function editors() {
  await forms();
  await assent();
  await takenBack();
  await undo();
}
