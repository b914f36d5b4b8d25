// The page's side of the worker that runs Python: starts it, asks it, drops what is out of date, ends it when it is stuck.

const BOOT_LIMIT_MS = 90_000; // a slow phone needs half a minute; past this it will not come
const ANSWER_LIMIT_MS = 20_000;

let worker;
let address;
let tell;
let isReady = false;
let asking = null; // the question that the worker has
let waiting = null; // the newest question behind it; an older one is dropped
let lastId = 0;
let limit;

/** Starts the engine from a folder. `report` hears "ready", "failed" (with a sentence), and each newest answer. */
export function start(engine, report) {
  address = new URL(engine, document.baseURI).href;
  tell = report;
  boot();
}

export function ask(calculator, entries) {
  waiting = { id: ++lastId, calculator, entries };
  next();
}

function boot() {
  isReady = false;
  worker = new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  worker.onmessage = ({ data }) => (data.id ? answered(data) : booted(data));
  worker.onerror = (event) => fail(event.message || "the worker's script did not load");
  limit = setTimeout(() => fail("it took too long"), BOOT_LIMIT_MS);
  worker.postMessage({ kind: "boot", engine: address });
}

function booted({ kind, sentence }) {
  clearTimeout(limit);
  if (kind === "failed") return fail(sentence);
  isReady = true;
  tell({ kind: "ready" });
  next();
}

function fail(sentence) {
  clearTimeout(limit);
  worker.terminate();
  isReady = false;
  asking = null;
  tell({ kind: "failed", sentence });
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

// The question that it was stuck on is not asked again: it would be stuck again.
function restart() {
  worker.terminate();
  tell({ id: asking.id, kind: "fault", sentence: "it took too long" });
  asking = null;
  boot();
}
