// Class, circuit, worksheets and marks in each language: carried by links and forms, no English word left in what they
// say, numbers as they are taught.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { check, database, post, raw, same, secrets, serve, test, visit } from "./lib.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

// Words of English that no text of another language holds: names of the demo's loads and branches are left out before.
const english = /\b(the|and|of the|with|which|step|steps|together|other way|check|agree|current|currents|voltage|breaker|covered|shown|show|load|loads|answer|answers|student|students|wrong|right|empty|slip|slips|opened|everything|line|solve|open|shorted|caution|estimates|mark|language)\b/i;

async function plain(page, own) {
  let text = await page.locator("body").evaluate((body) => {
    const copy = body.cloneNode(true);
    copy.querySelectorAll("code, textarea, nav [lang], option, .house").forEach((one) => one.remove());
    copy.querySelectorAll("[placeholder], [aria-label]").forEach((one) => one.append(" " + (one.getAttribute("aria-label") ?? "")));
    return [...copy.querySelectorAll("script, style")].forEach((one) => one.remove()), copy.textContent;
  });
  for (const name of own) { text = text.replaceAll(name, ""); }
  return text.replaceAll(/answers(-wide)?\.csv/g, "");
}

async function clean(page, what, language, own) {
  same(await page.locator("html").getAttribute("lang"), language, `${what}: language of the page`);
  const text = await plain(page, own);
  const found = english.exec(text);
  check(!found, `${what}: English: ${found && text.slice(Math.max(0, found.index - 60), found.index + 60)}`);
  await page.evaluate(axeSource);
  const faults = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"] }));
  same(faults.violations.map((one) => `${one.id}: ${one.nodes[0].html}`), [], `${what}: axe`);
}

// Spanish and French share words with English ("total", "parallel"), which the list leaves out.
const words = {
  de: { predict: "Erst vorhersagen.", figures: "Stromstärken zeigen", together: "Zusammen", current: "12,50 A", unit: "U²", steps: "Rechenschritte", points: "Punkte", right: "richtig", phases: "keine drei Außenleiter" },
  es: { predict: "Primero, predecir.", figures: "Mostrar las intensidades", together: "Junto", current: "12,50 A", unit: "V²", steps: "Pasos", points: "Puntos", right: "bien", phases: "no tiene tres fases" },
  fr: { predict: "D’abord, prévoir.", figures: "Montrer les intensités", together: "Ensemble", current: "12,50 A", unit: "U²", steps: "Étapes", points: "Points", right: "juste", phases: "pas trois phases" },
};

async function classIn(site, language, own) {
  await test(`the class in ${language}: list, board, steps and drawing, the language carried by every link and button`, async () => {
    const page = await visit(site, { javaScriptEnabled: true });
    await page.goto(`${site.base}/class`);
    await page.locator(`nav.languages a[lang=${language}]`).click();
    await clean(page, "list", language, own);
    await page.locator("main a[href^='/class/bedroom?']").click();
    check((await page.locator(".ask").first().innerText()).startsWith(words[language].predict), "asked first");
    await page.locator("#figures").click();
    await page.waitForFunction(() => !document.querySelector("#figures"));
    await page.locator("#every").click();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length > 10);
    const text = await page.locator("main").innerText();
    check(text.includes(words[language].current) && !text.includes("12.50 A"), `decimal comma: ${text.slice(0, 600)}`);
    check(text.includes(words[language].unit), "the letter of a voltage as it is taught");
    await clean(page, "board", language, own);
    await page.locator("#on-bedroom-heater").uncheck();
    await page.waitForFunction(() => document.querySelectorAll(".steps li").length === 0);
    await clean(page, "opened", language, own);
    check((await page.locator("main a[href^='/live/']").getAttribute("href")).endsWith(`?language=${language}`), "the live lesson too");
    await page.context().close();
    const live = await raw(site, { path: `/live/bedroom?language=${language}` });
    check(live.body.includes(`<html lang="${language}">`), "the live lesson's language");
  });
}

async function solveIn(site, language) {
  await test(`a circuit in ${language}: answer, fault and refusal`, async () => {
    const page = await visit(site);
    await page.goto(`${site.base}/class?language=${language}`);
    await page.locator("header a[href^='/solve']").click();
    same(await page.locator("html").getAttribute("lang"), language, "carried by the views' links");
    await page.locator("[name=source]").fill("24 V");
    await page.locator("[name=circuit]").fill("7 + (10 | 22)");
    await page.locator("[name=open]").fill("R3");
    await page.locator("main button").click();
    await page.waitForSelector("#answer");
    const text = await page.locator("#answer").innerText();
    // By hand: 10 x 22 / 32 = 6.875; 24 / 13.875 = 1.72973 A
    check(text.includes("6,875") && text.includes("1,73") && !text.includes("6.875"), text.slice(0, 400));
    check(text.includes(words[language].steps), "the steps' heading");
    await clean(page, "answer", language, []);
    await page.goto(`${site.base}/solve?language=${language}&source=24+V&circuit=7+%2B+%2810`);
    check(await page.locator("[role=alert]").count() === 1, "refused");
    await clean(page, "refusal", language, []);
    await page.context().close();
  });
}

async function marksIn(site, language, own) {
  await test(`worksheets and marks in ${language}: the form's language is that of the sheets and of what is said of them`, async () => {
    const page = await visit(site);
    await page.goto(`${site.base}/files?language=${language}#lesson`);
    same(await page.locator("#lesson").getAttribute("lang"), language, "the form");
    same(await page.locator("#lesson [name=language]").inputValue(), language, "its choice");
    await page.locator("#lesson details summary").click();
    await page.locator("#lesson [value=trip]").check();
    await page.locator("#lesson [formaction='/mark']").click();
    await clean(page, "mark form", language, own);
    await page.locator("[name=answers]").fill("student,question,part,answer\n1,1,a,zzz\n1,1,b,\"7,5 A\"\n4,1,a,2\n");
    await page.locator("main button").click();
    await page.waitForSelector("table");
    const text = await page.locator("main").innerText();
    check(text.includes(words[language].points), "points");
    await page.locator("main details").evaluateAll((all) => all.forEach((one) => { one.open = true; }));
    await clean(page, "marks", language, own);
    await page.context().close();
    const sheets = await raw(site, { path: `/files/lesson.zip?language=${language}&kind=trip&students=1` });
    check(sheets.status === 200, `the sheets: ${sheets.status}`);
    const refused = await raw(site, { path: `/files/lesson.zip?language=${language}&students=99999` });
    check(refused.status === 422 && refused.body.includes(`<html lang="${language}">`) && !refused.body.includes("whole number"), "a refused number");
    const unfit = await raw(site, { path: `/files/lesson.zip?language=${language}&kind=three-neutral` }); // two legs in the demo house
    check(unfit.status === 422 && unfit.body.includes(`<html lang="${language}">`) && unfit.body.includes(words[language].phases), `an unfit kind: ${unfit.status}`);
    const refusal = await visit(site);
    await refusal.goto(`${site.base}/files/lesson.zip?language=${language}&kind=three-neutral`);
    await clean(refusal, "an unfit kind", language, own);
    await refusal.context().close();
  });
}

export async function languages() {
  const path = database("languages.db");
  const site = await serve(path);
  const shown = JSON.parse((await raw(site, { path: "/api/check" })).body || "{}");
  const own = [shown.house, ...(shown.branches ?? []).flatMap((branch) => [branch.label, ...branch.loads.map((load) => load.name)])]
    .filter(Boolean).sort((a, b) => b.length - a.length);
  check(own.length > 20, `names of the house: ${own.length}`);
  for (const language of Object.keys(words)) {
    await classIn(site, language, own);
    await solveIn(site, language);
    await marksIn(site, language, own);
  }
  await test("an unknown language is English, and English addresses carry none", async () => {
    const page = (await raw(site, { path: "/class?language=xx" })).body;
    check(page.includes('<html lang="en">') && !page.includes("/solve?language"), "English");
  });
  await site.stop();
}
