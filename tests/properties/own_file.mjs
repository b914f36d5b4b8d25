// Answers over standard input and output, a line each: what the scripts of the pages make of a file of own things.

import { createRequire } from "node:module";
import { createInterface } from "node:readline";
import { fileOf, readFile } from "../../site_builder/web/own_file.js";
import { changesOf, resultOf } from "../../site_builder/web/own_merge.js";
import { tableOf } from "../../site_builder/web/log_table.js";

const acts = {
  make: ({ things, moment, schema }) => fileOf(things, moment, schema),
  read: ({ text, schema }) => readFile(text, schema),
  merge: ({ records, here, datedOf, now, mostInName, choice }) => {
    const changes = changesOf(records, here, { datedOf, now, mostInName });
    return changes.map((change) => ({ kind: change.kind, id: change.id, how: change.how, result: resultOf(change, choice) }));
  },
  judge: ({ text, schema, modules }) => judgeOf(schema, modules)(JSON.parse(text)),
  table: ({ packs, facts }) => tableOf(packs, facts),
};

// A judge that is none of ours: the one that the linter of scripts brings along. It has a list of different parts under an older name.
let judge;

function judgeOf(schema, modules) {
  const older = JSON.parse(JSON.stringify(schema).replaceAll('"prefixItems"', '"items"'));
  const Judge = createRequire(`${modules}/`)("ajv");
  return (judge ??= new Judge({ format: "full" }).compile(older));
}

for await (const line of createInterface({ input: process.stdin })) {
  const { act, ...given } = JSON.parse(line);
  console.log(JSON.stringify(acts[act](given)));
}
