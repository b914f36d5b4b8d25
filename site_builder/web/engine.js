// The page's side of the worker that runs Python: starts it, asks it, drops what is out of date, ends it when it is stuck.

import { engineIsUp, mend, moreIsComing, savingSettled } from "./offline.js";
import { scriptAddress } from "./trusted.js";

// A slow phone needs ten seconds for the quick start and half a minute for the plain one; past this it will not come.
const BOOT_LIMIT_MS = { quick: 30_000, plain: 90_000 };
const FROM_THE_HOST = 4; // so many times as long where nothing is on the phone and all of it is fetched first
const ANSWER_LIMIT_MS = 20_000;
// In turn, each when the one before it has failed.
const STARTS = [
  { way: "quick" },
  { way: "quick", before: mend },
  { way: "plain", before: () => tell({ kind: "slow" }) },
];

let worker;
let address;
let tell;
let tried = 0; // the place in STARTS of the start that runs, or that worked
let isReady = false;
let asking = null; // the question that the worker has
let waiting = null; // the newest question behind it; an older one is dropped
let lastId = 0;
let limit;

/** Starts the engine from a folder. `report` hears "slow", "ready", "failed" (with a sentence), and each newest answer. */
export function start(engine, report) {
  address = new URL(engine, document.baseURI).href;
  tell = report;
  tried = 0;
  boot();
}

export function ask(calculator, entries, units = {}) {
  waiting = { id: ++lastId, calculator, entries, units };
  next();
}

function boot() {
  const { way } = STARTS[tried];
  isReady = false;
  worker = new Worker(scriptAddress(new URL("./worker.js", import.meta.url)), { type: "module" });
  worker.onmessage = ({ data }) => (data.id ? answered(data) : booted(data));
  worker.onerror = (event) => (isReady ? restart() : tryNext(event.message || "the worker's script did not load"));
  waitFor(BOOT_LIMIT_MS[way] * (navigator.serviceWorker?.controller ? 1 : FROM_THE_HOST));
  worker.postMessage({ kind: "boot", engine: address, way });
}

function waitFor(time) {
  limit = setTimeout(() => (moreIsComing() ? waitFor(time) : tryNext("it took too long")), time);
}

function booted({ kind, sentence }) {
  clearTimeout(limit);
  if (kind === "failed") return tryNext(sentence);
  isReady = true;
  engineIsUp();
  tell({ kind: "ready" });
  next();
}

async function tryNext(sentence) {
  clearTimeout(limit);
  worker.terminate();
  if (moreIsComing()) return savingSettled().then(boot);
  if (tried + 1 === STARTS.length) return tell({ kind: "failed", sentence });
  tried += 1;
  await STARTS[tried].before();
  boot();
}

function next() {
  if (!isReady || asking || !waiting) return;
  asking = waiting;
  waiting = null;
  limit = setTimeout(restart, ANSWER_LIMIT_MS);
  worker.postMessage(asking);
}

function answered(answer) {
  clearTimeout(limit);
  asking = null;
  if (answer.id === lastId) tell(answer);
  next();
}

// The newest question is asked once more: a phone that slept while it was worked out looks stuck and is not. One that is
// stuck again is given up.
function restart() {
  clearTimeout(limit);
  worker.terminate();
  if (!waiting && asking?.isAskedAgain) tell({ id: asking.id, kind: "fault", sentence: "it took too long" });
  else waiting ??= asking && { ...asking, isAskedAgain: true };
  asking = null;
  boot();
}
