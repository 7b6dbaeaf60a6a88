// What the tests of the running page report with (TAP): each line numbered, failures counted.
let number = 0;
let failed = 0;
let part = "";

export const wait = (ms) => new Promise((done) => setTimeout(done, ms));

// The word that stands in front of each test's name.
export function begin(name) {
  part = name;
}

export function result(good, name, why = "") {
  number += 1;
  failed += good ? 0 : 1;
  if (!good && why) console.log(`# ${String(why).replaceAll("\n", "\n# ")}`);
  console.log(`${good ? "ok" : "not ok"} ${number} - ${part}: ${name}`);
}

export function skip(name, why) {
  number += 1;
  console.log(`ok ${number} - ${part}: ${name} # SKIP ${why}`);
}

// The plan, and the exit status where something failed.
export function finish() {
  console.log(`1..${number}`);
  process.exit(failed === 0 ? 0 : 1);
}
