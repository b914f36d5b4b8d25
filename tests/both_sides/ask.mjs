// node ask.mjs ENGINE WAY TASK TOLD: starts Python from a built engine folder, as the worker does, asks it questions and has it
// run scripts. TASK and TOLD are JSON: {questions: [[calculator, entries, units]], before, after} and {answers, code, before, after}.

import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { gunzipSync } from "node:zlib";

globalThis.require = createRequire(import.meta.url); // else Pyodide looks, in node alone, for a package that is not in dist/
const [engine, way, task, told] = process.argv.slice(2);
const { startFromSnapshot, startPlainly } = await import(pathToFileURL(`${engine}/start.mjs`));
const WAYS = {
  quick: () => startFromSnapshot([new Uint8Array(gunzipSync(readFileSync(`${engine}/snapshot.bin`)))]),
  plain: startPlainly,
};

const { respond, bringEncoder, qrCode } = await WAYS[way]();
const python = respond.__globals__.get("__builtins__");
const { questions, before, after } = JSON.parse(readFileSync(task, "utf8"));
const toldBefore = run(before);
const answers = questions.map((question) => JSON.parse(respond(question[0], ...question.slice(1).map((part) => JSON.stringify(part)))));
bringEncoder(readFileSync(`${engine}/qr_encoder.json`, "utf8"));
const code = qrCode("https://club.example/?cells=4");
writeFileSync(told, JSON.stringify({ answers, code, before: toldBefore, after: run(after) }));

/** Runs a script and returns what it calls `told`, as JSON says it. */
function run(script) {
  const names = python.get("dict")();
  python.get("exec")(`${script}\nimport json\ntold = json.dumps(told)`, names);
  return JSON.parse(names.get("told"));
}
