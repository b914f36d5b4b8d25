// Runs Python, so that the page never freezes. Text comes in, text goes out.

import { letGo } from "./let_go.js";
import { answeringBy } from "./messages.js";
import { wasmOf } from "./wasm_ahead.js";
import { compileAhead, compileAlikeOnce, shareNoMemory } from "./worker_savings.js";

// A browser compiles WebAssembly anew, faster, where it is used much. So often is the first question worked out once more.
const TIMES_FOR_SPEED = 25;
const UNTIL_IT_IS_DRAWN_MS = 300;
const WAYS = { quick, plain };

let respond, bringEncoder, qrCode;
let encoder = null; // on its way, or there
let folder;
let isFast = false;
let give;
const given = new Promise((resolve) => (give = resolve)); // compiled by the page, or null

self.onmessage = answeringBy({ boot, wasm: (message) => give(message.wasm), answer, code });
self.onmessageerror = () => give(null); // a browser that cannot receive what is compiled

/** Starts Python one of two ways. `givesWasm`: whoever asks for it compiles its WebAssembly meanwhile, and gives it. */
async function boot({ engine, way, givesWasm }) {
  import(`${engine}pyodide.asm.mjs`).catch(() => {}); // start.mjs wants it, and it is long: it comes meanwhile
  folder = engine;
  ({ respond, bringEncoder, qrCode } = await WAYS[way](engine, givesWasm ? given : null));
}

/** What encodes comes with the first code. */
async function code({ text }) {
  encoder ??= fetched(`${folder}qr_encoder.json`).then(async (response) => bringEncoder(await response.text()));
  await encoder.catch((fault) => {
    encoder = null; // to be tried again
    throw fault;
  });
  return qrCode(text);
}

function answer({ calculator, entries, units }) {
  const question = [calculator, JSON.stringify(entries), JSON.stringify(units)];
  const text = respond(...question);
  if (!isFast) getFast(question);
  return JSON.parse(text);
}

// Before the pilot types on, and once the answer is on the screen. A question that comes meanwhile waits for one of these at most.
async function getFast(question) {
  isFast = true;
  await new Promise((others) => setTimeout(others, UNTIL_IT_IS_DRAWN_MS));
  for (let time = 0; time < TIMES_FOR_SPEED; time += 1) {
    await new Promise((others) => setTimeout(others));
    respond(...question);
  }
}

// gzip's own checksum refuses a damaged snapshot: one that is used as it came would answer with damaged numbers.
async function quick(engine, comes) {
  compileAlikeOnce();
  shareNoMemory();
  const compiled = compileAhead(comes, wasmOf(engine));
  const snapshot = fetched(`${engine}snapshot.bin`).then(({ body }) => partsOf(unpacked(body)));
  const { startFromSnapshot } = await import(`${engine}start.mjs`);
  return withCompiled(compiled, startFromSnapshot(snapshot.then(oneByOne)));
}

/** Changes nothing of what the browser has: Pyodide compiles for itself, and this only to know whether it will. */
async function plain(engine) {
  const { startPlainly } = await import(`${engine}start.mjs`);
  return withCompiled(WebAssembly.compileStreaming(fetched(wasmOf(engine))), startPlainly());
}

/** Pyodide waits for ever for a WebAssembly that does not compile: here that is a failure. */
const withCompiled = (compiled, starting) => Promise.race([starting, compiled.then(() => starting)]);

/** Lets go of each packed part once it is unpacked. */
function unpacked(body) {
  const { readable, writable } = new DecompressionStream("gzip");
  const into = writable.getWriter();
  const feed = async () => {
    const reader = body.getReader();
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      await into.write(part.value);
      letGo(part.value.buffer);
    }
    await into.close();
  };
  feed().catch((fault) => into.abort(fault));
  return readable;
}

async function partsOf(stream) {
  const parts = [];
  const reader = stream.getReader();
  for (let part = await reader.read(); !part.done; part = await reader.read()) parts.push(part.value);
  return parts;
}

/** Lets go of each part once the next is asked for. */
function* oneByOne(parts) {
  for (const part of parts) {
    yield part;
    letGo(part.buffer);
  }
}

async function fetched(address) {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${response.status} for ${response.url}`);
  return response;
}
