// Has every file saved on the phone, says how far that is, and offers a new version.

const RUNNING_CARD = "fieldslate.running-card"; // card.js writes it
const SILENCE_MS = 5_000; // a browser ends a service worker without a word: saving that says nothing is asked for again
const MEND_LIMIT_MS = 30_000;
const NEWS_LATER_MS = 3_000; // the host is asked for a new version once the answer is there
const workers = navigator.serviceWorker;

let letEngineStart;
// On a first visit page and service worker would both fetch the engine: it waits until all it asks for goes through the latter.
export const engineMayStart = new Promise((resolve) => (letEngineStart = resolve));

let registration;
let wasControlled = Boolean(workers?.controller);
let otherVersionTookOver = false;
let reloadAsked = false;
let trouble = null;
let saved = 0;
let savedAtLastStop = 0;
let silence = null;
const whenSaved = [];

export function start() {
  if (!workers) return keepNothing();
  if (wasControlled) letEngineStart();
  workers.addEventListener("message", ({ data }) => REPORTS[data.kind]?.(data));
  workers.addEventListener("controllerchange", controllerChanged);
  workers.startMessages();
  addEventListener("online", save);
  document.addEventListener("visibilitychange", save); // an installed app that comes back is a visit too
  addEventListener("storage", ({ key }) => (key === RUNNING_CARD || key === null) && cardChanged());
  document.addEventListener("fieldslate:card", cardChanged);
  document.getElementById("use-new-version").addEventListener("click", useNewVersion);
  save();
}

/** Has every file on the phone checked and fetched again where it is damaged. A host that says nothing is not waited for. */
export async function mend() {
  const worker = (await workers?.getRegistration())?.active;
  const nothing = { kind: "checked", mended: [], missing: [] };
  if (!worker) return nothing;
  return Promise.race([ask(worker, { kind: "check" }), new Promise((resolve) => setTimeout(resolve, MEND_LIMIT_MS, nothing))]);
}

/** Whether files are still on their way, or wait for a signal: what takes long or fails is then not the engine's fault. */
export const moreIsComing = () => silence !== null || Boolean(trouble?.signalLost);

/** Resolves as soon as everything is on the phone the next time. */
export const everythingSaved = () => new Promise((resolve) => whenSaved.push(resolve));

// Saving

async function save() {
  if (document.hidden) return;
  try {
    registration = (await registeredBefore()) ?? (await workers.register("./service-worker.js", { scope: "./" }));
  } catch (error) {
    return error instanceof TypeError ? scriptNotFetched() : keepNothing();
  }
  registration.onupdatefound = followInstall;
  followInstall();
  if (registration.active) saveTheRest();
}

/** To register once more asks the host for a new version: a page that comes from the phone does so a little later. */
function registeredBefore() {
  if (registration || !wasControlled) return null;
  setTimeout(save, NEWS_LATER_MS);
  return workers.getRegistration();
}

function followInstall() {
  const worker = registration.installing;
  if (!worker) return;
  worker.onstatechange = () => {
    if (worker.state === "redundant" && !registration.active) saveStopped();
    if (worker.state === "installed") showOffer();
    if (worker.state === "activated") saveTheRest();
  };
}

async function saveTheRest() {
  cardChanged();
  if (!workers.controller) letEngineStart(); // a reload past the service worker
  const { stored, total } = await ask(registration.active, { kind: "state" });
  if (stored < total) {
    listen();
    await ask(registration.active, { kind: "save" });
  }
  hush();
  trouble = null;
  for (const resolve of whenSaved.splice(0)) resolve();
  say("Everything is on this phone.");
  if (!(await navigator.storage?.persisted?.())) navigator.storage?.persist?.();
}

function listen() {
  clearTimeout(silence);
  silence = setTimeout(saveTheRest, SILENCE_MS);
}

function hush() {
  clearTimeout(silence);
  silence = null;
}

const REPORTS = {
  progress({ done, total }) {
    trouble = null;
    saved = done;
    sayProgress(done, total);
    if (registration?.active) listen();
  },
  trouble(report) {
    trouble = report;
    hush();
    sayStopped();
    if (!report.signalLost) letEngineStart(); // the host can serve what the phone could not keep
  },
};

// Browsers end an install that takes some minutes. The next one goes on from there: try as long as that helps.
function saveStopped() {
  if (trouble || saved <= savedAtLastStop) return sayStopped();
  savedAtLastStop = saved;
  save();
}

function sayStopped() {
  say(`Saving stopped at ${megabytes(saved)}. ${trouble?.sentence ?? "It goes on when the signal is back."}`);
}

async function scriptNotFetched() {
  sayStopped();
  // An engine that starts with no signal fails for good, one that waits does not.
  await fetch("./service-worker.js", { method: "HEAD" }).then(letEngineStart, () => {});
}

function keepNothing() {
  say("This browser cannot keep Fieldslate: without a signal it will not open here.");
  letEngineStart();
}

// A new version

function controllerChanged() {
  if (reloadAsked) {
    reloadAsked = false;
    location.reload();
    return;
  }
  otherVersionTookOver = wasControlled;
  wasControlled = true;
  letEngineStart();
  cardChanged();
}

function cardChanged() {
  workers.controller?.postMessage({ kind: "card", running: cardRuns() });
  showOffer();
}

function cardRuns() {
  try {
    return localStorage.getItem(RUNNING_CARD) !== null;
  } catch {
    return false; // where the browser refuses storage, no card can be kept
  }
}

function showOffer() {
  const newer = (registration?.active && registration.waiting) || otherVersionTookOver;
  document.getElementById("new-version").hidden = !newer || cardRuns();
}

function useNewVersion() {
  if (!registration.waiting) return location.reload();
  reloadAsked = true;
  registration.waiting.postMessage({ kind: "take-over" });
}

// Words

function say(sentence) {
  const line = document.getElementById("offline-state");
  if (line.textContent !== sentence) line.textContent = sentence;
}

// The figure changes often and is read out only with the words behind it, which change at every quarter.
function sayProgress(done, total) {
  const line = document.getElementById("offline-state");
  if (!line.querySelector("span")) {
    line.innerHTML = 'Saving to this phone: <span aria-live="off"></span><span></span>';
  }
  const [figure, words] = line.querySelectorAll("span");
  figure.textContent = `${megabytes(done)} of ${megabytes(total)}`;
  const quarter = ["", ", a quarter is here", ", half is here", ", three quarters are here", ""][Math.floor((4 * done) / total)];
  if (words.textContent !== quarter) words.textContent = quarter;
}

const megabytes = (bytes) => `${(bytes / 1_000_000).toFixed(1)} MB`;

function ask(worker, message) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage(message, [port2]);
  });
}
