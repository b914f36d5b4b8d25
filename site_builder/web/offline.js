// Has every file saved on the phone and says how far that is.

import { cardChanged, goOnWithStored, offerFrom, showOffer, start as startOffer, tookOver } from "./new_version.js";
import { ALL_SAVED, CANNOT_KEEP, LOST, say, sayProgress, sayStopped } from "./offline_words.js";
import { reasonFor, register } from "./registering.js";
import { lookInTurn } from "./saved_files.js";

const SILENCE_MS = 5_000; // a browser ends a service worker without a word: saving that says nothing is asked for again
const MEND_LIMIT_MS = 30_000;
const NEWS_LATER_MS = 3_000; // the host is asked for a new version once the answer is there
const AGAIN_MS = 30_000; // after a host has stopped sending
const workers = navigator.serviceWorker;

let letEngineStart;
// On a first visit page and service worker would both fetch the engine: it waits until all it asks for goes through the latter.
export const engineMayStart = new Promise((resolve) => (letEngineStart = resolve));

let registration;
const wasControlled = Boolean(workers?.controller);
let engineRuns = false;
let wasWhole = false; // everything was on this phone at this visit
let trouble = null;
let saved = 0;
let savedAtLastStop = 0;
let silence = null;
let isAskedForNewer = false;
let registersAgain = false;
const whenSettled = [];

export function start() {
  if (!workers) return keepNothing();
  if (wasControlled) letEngineStart();
  workers.addEventListener("message", ({ data }) => REPORTS[data.kind]?.(data));
  workers.addEventListener("controllerchange", controllerChanged);
  workers.startMessages();
  addEventListener("online", save);
  document.addEventListener("visibilitychange", save); // an installed app that comes back is a visit too
  startOffer();
  save();
}

/** The calculator runs: whatever version takes over, this page is whole. */
export const engineIsUp = () => (engineRuns = true);

/** Has every file on the phone checked and fetched again where it is damaged. A host that says nothing is not waited for. */
export async function mend() {
  const worker = (await workers?.getRegistration())?.active;
  const nothing = { kind: "checked", mended: [], missing: [] };
  if (!worker) return nothing;
  const checked = stateOf(worker).then(({ isOfPage }) => (isOfPage ? ask(worker, { kind: "check" }) : goOnWithStored() ?? nothing));
  return Promise.race([checked, new Promise((resolve) => setTimeout(resolve, MEND_LIMIT_MS, nothing))]);
}

/** Whether files are still on their way, or wait for a signal: what takes long or fails is then not the engine's fault. */
export const moreIsComing = () => silence !== null || Boolean(trouble?.isSignalLost);

/** Resolves as soon as everything is on the phone the next time, or cannot come. */
export const savingSettled = () => new Promise((resolve) => whenSettled.push(resolve));

// Saving

async function save() {
  if (document.hidden) return;
  try {
    registration = (await registeredBefore()) ?? (await register(save));
  } catch (error) {
    return notRegistered(error);
  }
  registration.onupdatefound = followInstall;
  offerFrom(registration);
  followInstall();
  if (registration.active) saveTheRest();
}

/** To register once more asks the host for a new version: a page that comes from the phone does so a little later. */
function registeredBefore() {
  if (registration || !wasControlled) return null;
  setTimeout(save, NEWS_LATER_MS);
  return workers.getRegistration();
}

async function notRegistered(error) {
  const reason = await reasonFor(error);
  if (!reason) return sayStopped(saved); // an engine that starts with no signal fails for good
  say(reason);
  letEngineStart();
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
  const { stored, total } = await stateOf(registration.active);
  if (stored < total) {
    listen();
    await ask(registration.active, { kind: "save" });
  }
  hush();
  trouble = null;
  wasWhole = true;
  settle();
  say(ALL_SAVED);
  lookInTurn((place) => ask(registration.active, { kind: "look", place }), ({ isMissing }) => say(isMissing ? LOST : ALL_SAVED));
  if (!(await navigator.storage?.persisted?.())) navigator.storage?.persist?.();
}

const settle = () => whenSettled.splice(0).forEach((resolve) => resolve());

function listen() {
  clearTimeout(silence);
  silence = setTimeout(saveTheRest, SILENCE_MS);
}

function hush() {
  clearTimeout(silence);
  silence = null;
}

const REPORTS = {
  progress(report) {
    trouble = null;
    saved = report.done;
    sayProgress(report);
    if (report.late && !workers.controller) letEngineStart(); // it may come from the host, where the service worker cannot yet answer
    if (registration?.active) listen();
  },
  trouble(report) {
    trouble = report;
    hush();
    sayStopped(saved, report.sentence);
    if (report.isSignalLost) return;
    if (report.isStalled) setTimeout(save, AGAIN_MS);
    if (report.isWrong && !isAskedForNewer) return lookForNewer();
    goOnWithoutSaving();
  },
  lost: () => wasWhole && say(LOST), // else it has not come yet, which is said already
};

/** The host can serve what the phone could not keep. */
function goOnWithoutSaving() {
  letEngineStart();
  settle();
}

/** The host may have gone on to a new version since this page began: what this one lacks is there no longer. */
async function lookForNewer() {
  isAskedForNewer = true;
  registersAgain = !registration?.active;
  if (registersAgain) return;
  await registration.update().catch(() => {});
  if (!registration.installing && !registration.waiting) goOnWithoutSaving();
}

// Browsers end an install that takes some minutes. The next one goes on from there: try as long as that helps.
function saveStopped() {
  if (!registersAgain && (trouble || saved <= savedAtLastStop)) return sayStopped(saved, trouble?.sentence);
  registersAgain = false;
  savedAtLastStop = saved;
  save();
}

function keepNothing() {
  say(CANNOT_KEEP);
  letEngineStart();
}

async function controllerChanged() {
  if (tookOver()) return;
  const worker = workers.controller;
  while (worker.state === "activating") await new Promise((resolve) => worker.addEventListener("statechange", resolve, { once: true }));
  const { isOfPage } = await stateOf(worker);
  if (isOfPage || engineRuns) letEngineStart();
  else goOnWithStored();
}

const stateOf = (worker) => ask(worker, { kind: "state", engine: document.body.dataset.engine });

function ask(worker, message) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage(message, [port2]);
  });
}
