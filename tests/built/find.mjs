// node find.mjs FOLDER: reads a JSON list of what is typed from standard input, and prints what the built find page finds for each.

import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const file = (name) => resolve(process.argv[2], name);
const { default: MiniSearch } = await import(pathToFileURL(file("minisearch.mjs")));
const { open } = await import(pathToFileURL(file("search.mjs")));
const find = open(MiniSearch, JSON.parse(readFileSync(file("sections.json"), "utf8")));
const typed = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(typed.map(find)));
