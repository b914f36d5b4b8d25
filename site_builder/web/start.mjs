// Starts Python and hands back its functions that answer and that draw a code. Runs in the browser's worker and, for the tests, in node. It lies
// beside Pyodide's own files, in the folder that carries the hash of them all, so that no two versions meet.

import { callerIn, firstMemory, lay, opened, withFirstMemory } from "./memory.mjs";
import createPyodideModule from "./pyodide.asm.mjs";
import { loadPyodide } from "./pyodide.mjs";

const PAGE = 65536; // in which the memory of a WebAssembly grows
// Without these Pyodide would look for packages on a host that is not ours. It starts only if the version is its own.
const NO_PACKAGES = { packageBaseUrl: "./", lockFileContents: { info: { abi_version: "2026_0" }, packages: {} } };

/** Starts from the snapshot, folded, in pieces that come one by one, or a promise of them: the quick way. */
export async function startFromSnapshot(pieces) {
  const snapshot = Promise.resolve(pieces).then(opened);
  const python = await loadPyodide({
    ...NO_PACKAGES,
    stdLibURL: beside("empty.zip"), // all that is imported is in the snapshot
    _loadSnapshot: snapshot.then(({ head }) => head),
    createPyodideModule: async (settings) => pyodideFor(await snapshot, settings),
  });
  python.pyimport("site_builder.engine.restore").renew();
  return answering(python);
}

/** Starts from nothing, with what the snapshot was made from: slower, and needs no more than any Pyodide. */
export async function startPlainly() {
  return answering(await loadPyodide({ ...NO_PACKAGES, stdLibURL: beside("plain-start.zip") }));
}

// Pyodide would want the heap whole, and copy it: two thirds of it are empty, and a phone has little room. Here it is in its place
// before Pyodide restores the rest, and what it came in is gone.
async function pyodideFor({ heapLength, ...snapshot }, settings) {
  let first;
  const pyodide = await createPyodideModule(
    withFirstMemory(settings, (wasm) => {
      first = firstMemory(wasm);
      const lacking = heapLength - wasm.memory.buffer.byteLength;
      if (lacking > 0) wasm.memory.grow(lacking / PAGE);
    }),
  );
  const caller = callerIn(pyodide.HEAPU8, pyodide).slice();
  lay(snapshot, first, pyodide.HEAPU8, { stackTop: pyodide._emscripten_stack_get_current(), used: pyodide._sbrk(0) });
  callerIn(pyodide.HEAPU8, pyodide).set(caller);
  first.buffer.transfer?.(0); // it would be held until the browser next looks for what nothing needs any more
  return pyodide;
}

const answering = (python) => {
  const codes = python.pyimport("site_builder.engine.qr_code");
  return { respond: python.pyimport("site_builder.engine.answer").respond_in_json, bringEncoder: codes.bring_encoder, qrCode: codes.qr_code };
};
const beside = (name) => new URL(name, import.meta.url).href;
