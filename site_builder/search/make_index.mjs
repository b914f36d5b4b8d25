// node make_index.mjs LIBRARY KEPT INDEX: reads what is looked through from KEPT, and writes the index over it.

import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

import { makeIndex } from "./search.mjs";

const [library, kept, index] = process.argv.slice(2);
const { default: MiniSearch } = await import(pathToFileURL(resolve(library)));
writeFileSync(index, JSON.stringify(makeIndex(MiniSearch, JSON.parse(readFileSync(kept, "utf8")))));
