// node freeze.mjs PYODIDE LIBRARY EXAMPLES SNAPSHOT MODULES: boots Pyodide with a library archive, has it do once whatever a
// page may ask for, and writes a snapshot of its memory and the names of the modules that it holds.

import { ENVIRONMENT } from "./same_every_time.mjs";
import { callerIn, exchange, firstMemory, folded, parts, withFirstMemory } from "../web/memory.mjs";
import { readFileSync, writeFileSync } from "node:fs";

const [pyodide, library, examples, snapshotFile, modulesFile] = process.argv.slice(2);
const { loadPyodide } = await import(`${pyodide}/pyodide.mjs`);
const { default: createPyodideModule } = await import(`${pyodide}/pyodide.asm.mjs`);

let first;
const python = await loadPyodide({
  _makeSnapshot: true,
  stdLibURL: library,
  env: ENVIRONMENT,
  createPyodideModule: (settings) => createPyodideModule(withFirstMemory(settings, (wasm) => (first = firstMemory(wasm)))),
});
run("warm.py", { worked_examples: readFileSync(examples, "utf8") });
fail();
writeFileSync(modulesFile, run("tidy.py"));
emptyDeadMemory(python._module);
callerIn(python._module.HEAPU8, python._module).fill(0);
const { head, heap } = parts(python.makeMemorySnapshot());
exchange(heap, first);
writeFileSync(snapshotFile, folded({ head, heap }));

function run(script, names = {}) {
  const globals = python.toPy(names);
  const result = python.runPython(readFileSync(new URL(script, import.meta.url), "utf8"), { globals, filename: script });
  globals.destroy();
  return result;
}

// A fault crosses from Python to JavaScript on a way of its own, which imports what it needs.
function fail() {
  try {
    python.runPython("1 / 0");
  } catch {
    return;
  }
  throw new Error("this was meant to fail");
}

// What Python has freed still holds what it last held. Emptied, it packs to next to nothing.
function emptyDeadMemory(memory) {
  const pieces = [];
  // Larger pieces first, each size until the heap has to grow for it; above 64 KiB it would grow by much.
  for (let size = 65536; size >= 8; size /= 2) {
    const heapEnd = memory._sbrk(0);
    while (memory._sbrk(0) === heapEnd) {
      const piece = memory._malloc(size);
      memory.HEAPU8.fill(0, piece, piece + size);
      pieces.push(piece);
    }
  }
  for (const piece of pieces) memory._free(piece);
  memory.HEAPU8.fill(0, memory._emscripten_stack_get_end(), memory._emscripten_stack_get_current());
}
