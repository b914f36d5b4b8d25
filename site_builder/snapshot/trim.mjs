// node trim.mjs PYODIDE TRIMMED OURS: writes Pyodide's WebAssembly and its script without the names that only libraries would
// look up which are loaded later. We load none. Of 8,560 names 267 are left; a start goes through all of them several times.
//
// A name stays where it stands as a word, with or without Pyodide's "_" before it, in a script of Pyodide's or of OURS (more
// scripts), or where the WebAssembly asks for it by name.

import { readFileSync, writeFileSync } from "node:fs";

const [pyodide, trimmed, ...ours] = process.argv.slice(2);
const [SCRIPT, WASM] = ["pyodide.asm.mjs", "pyodide.asm.wasm"];
const script = readFileSync(`${pyodide}/${SCRIPT}`, "utf8");
const wasm = readFileSync(`${pyodide}/${WASM}`);
const module = new WebAssembly.Module(wasm);

// What takes the names from the WebAssembly, statement by statement, and the variables that they are kept in.
const TAKES = /(?<=function assignWasmExports\(wasmExports\)\{)[^}]+(?=\})/;
const VARIABLES = /(?<=\bvar )[\w$]+(?:,[\w$]+){999,}(?=;)/;
const ONE = /^\s*([\w$]+)=Module\["\1"\]=wasmExports\["(\w+)"\](?:\.value>>>0)?\s*$/;
const SECTION_OF_EXPORTS = 7;

const rest = without(without(script, TAKES), VARIABLES);
const takes = script.match(TAKES)[0].split(";");
const odd = takes.filter((take) => !ONE.test(take)); // the few that take into more than one variable
const others = [`${pyodide}/pyodide.mjs`, ...ours].map((file) => readFileSync(file, "utf8"));
const words = new Set([rest, ...odd, ...others].join("\n").match(/[\w$]+/g));
const askedFor = new Set(WebAssembly.Module.imports(module).map(({ name }) => name));
const isUsed = (name) => words.has(name) || words.has(`_${name}`) || askedFor.has(name);

const unused = new Set();
const taken = takes.filter((take) => {
  const [, variable, name] = take.match(ONE) ?? [];
  if (!name || isUsed(name)) return true;
  unused.add(variable);
  return false;
});
const variables = script.match(VARIABLES)[0].split(",").filter((variable) => !unused.has(variable));
writeFileSync(`${trimmed}/${SCRIPT}`, script.replace(TAKES, () => taken.join(";")).replace(VARIABLES, () => variables.join(",")));
writeFileSync(`${trimmed}/${WASM}`, withUsedExports());

function without(text, pattern) {
  if (!pattern.test(text)) throw new Error(`Pyodide's script has no ${pattern} any more: look how it takes its names now, and correct trim.mjs`);
  return text.replace(pattern, "");
}

// A WebAssembly is eight bytes and then sections: what kind, how long, and that many bytes.
function withUsedExports() {
  const pieces = [wasm.subarray(0, 8)];
  for (let place = 8; place < wasm.length; ) {
    const length = numberAt(place + 1);
    const end = length.end + length.value;
    pieces.push(...(wasm[place] === SECTION_OF_EXPORTS ? exportsIn(length.end, end) : [wasm.subarray(place, end)]));
    place = end;
  }
  return Buffer.concat(pieces);
}

// How many, and then for each: how long its name is, its name, what kind, which one.
function exportsIn(begin, end) {
  const used = [];
  for (let place = numberAt(begin).end; place < end; ) {
    const length = numberAt(place);
    const kind = length.end + length.value;
    const next = numberAt(kind + 1).end;
    if (isUsed(wasm.toString("utf8", length.end, kind))) used.push(wasm.subarray(place, next));
    place = next;
  }
  const content = [asNumber(used.length), ...used];
  return [Uint8Array.of(SECTION_OF_EXPORTS), asNumber(content.reduce((sum, bytes) => sum + bytes.length, 0)), ...content];
}

// Numbers of a WebAssembly have seven bits a byte, the lowest first, and an eighth that says that more follow.
function numberAt(place) {
  let value = 0;
  for (let shift = 0; ; shift += 7) {
    const byte = wasm[place++];
    value += (byte & 127) * 2 ** shift;
    if (byte < 128) return { value, end: place };
  }
}

function asNumber(value) {
  const bytes = [];
  for (; value > 127; value >>>= 7) bytes.push((value & 127) | 128);
  return Uint8Array.of(...bytes, value);
}
