// The page's side of the worker that runs Python: starts it, asks it, drops what is out of date, ends it when it is stuck.

import { engineIsUp } from "./engine_gate.js";
import { ask as askIn, Failed } from "./messages.js";
import { mend } from "./mending.js";
import { moreIsComing, savingSettled } from "./offline.js";
import { scriptAddress } from "./trusted.js";
import { giveCompiled } from "./wasm_ahead.js";

// A slow phone needs ten seconds for the quick start and half a minute for the plain one; past this it will not come.
const BOOT_LIMIT_MS = { quick: 30_000, plain: 90_000 };
const FROM_THE_HOST = 4; // so many times as long where nothing is on the phone and all of it is fetched first
const ANSWER_LIMIT_MS = 20_000;
// In turn, each when the one before it has failed.
const STARTS = [
  { way: "quick" },
  { way: "quick", before: mend },
  { way: "plain", before: () => tell.news("slow") },
];

let worker;
let ending; // of that worker: what is asked of it fails then
let address;
let tell;
let tried; // the place in STARTS of the start that runs, or that worked
let isReady = false;
let asking = null; // the question that the worker has
let waiting = null; // the newest question behind it; an older one is dropped

/** Starts the engine from a folder. `report` has `news`, which hears "slow", "ready" and "failed", and `answered`, for each newest answer. */
export function start(engine, report) {
  address = new URL(engine, document.baseURI).href;
  tell = report;
  tried = 0;
  boot();
}

/** Asks, now or once the engine is up. */
export function ask(calculator, entries, units = {}) {
  waiting = { calculator, entries, units };
  next();
}

/** Asks beside the newest question, and returns the answer; rejects where the worker fails or ends. */
export const askBeside = (calculator, entries, units = {}) => askIn(worker, "answer", { calculator, entries, units }, { limit: ANSWER_LIMIT_MS, ended: ending.signal });

/** Returns a text as a QR code, in SVG. */
export const qrCode = (text) => askIn(worker, "code", { text }, { limit: ANSWER_LIMIT_MS, ended: ending.signal });

async function boot() {
  const { way } = STARTS[tried];
  const limit = BOOT_LIMIT_MS[way] * (navigator.serviceWorker?.controller ? 1 : FROM_THE_HOST);
  isReady = false;
  ending = new AbortController();
  worker = null;
  const starting = new AbortController();
  const givesWasm = way === "quick";
  try {
    worker = new Worker(scriptAddress(new URL("./worker.js", import.meta.url)), { type: "module" }); // a browser may refuse it
    worker.onerror = hasFailed;
    if (givesWasm) giveCompiled(worker, address, starting.signal);
    await askIn(worker, "boot", { engine: address, way, givesWasm }, { limit, goesOn: moreIsComing, ended: ending.signal });
  } catch {
    return tryNext();
  } finally {
    starting.abort();
  }
  isReady = true;
  engineIsUp();
  tell.news("ready");
  next();
}

function hasFailed({ message }) {
  if (isReady && !asking) restart();
  else ending.abort(new Error(message || "the worker's script did not load"));
}

async function tryNext() {
  worker?.terminate();
  if (moreIsComing()) return savingSettled().then(boot);
  if (tried + 1 === STARTS.length) return tell.news("failed");
  tried += 1;
  await STARTS[tried].before();
  boot();
}

async function next() {
  if (!isReady || asking || !waiting) return;
  asking = waiting;
  waiting = null;
  const { isAskedAgain, ...question } = asking;
  try {
    tellNewest(await askIn(worker, "answer", question, { limit: ANSWER_LIMIT_MS, ended: ending.signal }));
  } catch (error) {
    if (!(error instanceof Failed)) return restart();
    tellNewest({ kind: "fault", sentence: error.message });
  }
  asking = null;
  next();
}

const tellNewest = (answer) => waiting || tell.answered(answer);

// The newest question is asked once more: a phone that slept while it was worked out looks stuck and is not. One that is
// stuck again is given up.
function restart() {
  worker.terminate();
  if (!waiting && asking?.isAskedAgain) tell.answered({ kind: "fault", sentence: "it took too long" });
  else waiting ??= asking && { ...asking, isAskedAgain: true };
  asking = null;
  boot();
}
