// Compiles Python's WebAssembly in the page while its worker is still coming up, which would ask for it a tenth of a second later.

import { letGo } from "./let_go.js";

/** Returns the address of an engine's WebAssembly. */
export const wasmOf = (engine) => `${engine}pyodide.asm.wasm`;

/**
 * Gives a worker that starts the compiled WebAssembly of an engine, or null where this fails: then the worker compiles it for itself.
 * Nothing is given once the signal is aborted.
 */
export async function giveCompiled(worker, engine, signal) {
  const wasm = await compiled(wasmOf(engine), signal).catch(() => null);
  if (signal.aborted) return;
  try {
    worker.postMessage({ kind: "wasm", wasm });
  } catch {
    worker.postMessage({ kind: "wasm", wasm: null }); // a browser that cannot send what is compiled
  }
}

// Not as it comes: for that Chromium holds the file twice more until it next looks for what nothing needs any more.
async function compiled(address, signal) {
  const response = await fetch(address, { signal });
  if (!response.ok) return null;
  const bytes = await response.arrayBuffer();
  const wasm = await WebAssembly.compile(bytes);
  letGo(bytes);
  return wasm;
}
