// Has every file saved on the phone and says how far that is. Longer than most: registering, saving and a version that the host has meanwhile
// meet here, and each must know how far the others are.
/* eslint-disable max-lines */

import { engineRuns, letEngineStart } from "./engine_gate.js";
import { NoAnswer } from "./messages.js";
import { cardChanged, goOnWithStored, offerFrom, showOffer, start as startOffer, tookOver } from "./new_version.js";
import { ALL_SAVED, CANNOT_KEEP, LOST, say, sayProgress, sayStopped } from "./offline_words.js";
import { reasonFor, register } from "./registering.js";
import { lookInTurn } from "./saved_files.js";
import * as asked from "./service_questions.js";

const NEWS_LATER_MS = 3_000; // the host is asked for a new version once the answer is there
const AGAIN_MS = 30_000; // after a host has stopped sending, or the signal was lost
const UPDATE_LIMIT_MS = 20_000; // a host that does not send the service worker's script
const workers = navigator.serviceWorker;

let registration;
const wasControlled = Boolean(workers?.controller);
let wasWhole = false; // everything was on this phone at this visit
let trouble = null;
let again; // the timer after which saving is tried once more
let saved = 0;
let savedAtLastStop = 0;
let lastRun; // of the service worker's saving, that is over
let isSaving = false; // the service worker was asked, and has not said yet that everything is here or cannot come
let isAskedForNewer = false;
let registersAgain = false;
const whenSettled = [];

export function start() {
  if (!workers) return keepNothing();
  if (wasControlled) letEngineStart();
  workers.addEventListener("message", ({ data }) => NEWS[data.kind]?.(data));
  workers.addEventListener("controllerchange", controllerChanged);
  workers.startMessages();
  addEventListener("online", save);
  document.addEventListener("visibilitychange", save); // an installed app that comes back is a visit too
  startOffer();
  save();
}

/** Whether files are still on their way, or wait for a signal: what takes long or fails is then not the engine's fault. */
export const moreIsComing = () => isSaving || Boolean(trouble?.isSignalLost);

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
  if (!reason) {
    sayStopped(saved); // an engine that starts with no signal fails for good
    return tryAgain();
  }
  say(reason);
  letEngineStart();
}

/** Follows what is installed. What another page began may just have ended, with nothing active yet: a page loaded anew meets that in Firefox. */
function followInstall() {
  const worker = registration.installing ?? (registration.active ? null : registration.waiting);
  if (!worker) return registersAgain && saveStopped(); // it ended before this page heard why
  worker.onstatechange = () => {
    if (worker.state === "redundant" && !registration.active) saveStopped();
    if (worker.state === "installed") showOffer();
    if (worker.state === "activated") saveTheRest();
  };
}

async function saveTheRest() {
  cardChanged();
  if (!workers.controller) letEngineStart(); // a reload past the service worker
  if (isSaving) return;
  isSaving = true;
  const failure = await saveMissing().catch((error) => error);
  isSaving = false;
  lastRun = failure?.told?.run ?? lastRun;
  if (failure instanceof NoAnswer) return saveTheRest(); // ended without a word: it goes on with what is there
  if (failure) return stopped({ sentence: failure.message, ...failure.told });
  trouble = null;
  wasWhole = true;
  settle();
  say(ALL_SAVED);
  document.dispatchEvent(new CustomEvent("fieldslate:all-saved"));
  lookInTurn((place) => asked.look(registration.active, place), ({ isMissing }) => say(isMissing ? LOST : ALL_SAVED));
  if (!(await navigator.storage?.persisted?.())) navigator.storage?.persist?.();
}

async function saveMissing() {
  const { stored, total } = await asked.stateOf(registration.active);
  if (stored < total) lastRun = (await asked.save(registration.active)).run;
}

const settle = () => whenSettled.splice(0).forEach((resolve) => resolve());

const NEWS = {
  progress(report) {
    if (report.run === lastRun) return;
    trouble = null;
    saved = report.done;
    sayProgress(report);
    if (report.late && !workers.controller) letEngineStart(); // it may come from the host, where the service worker cannot yet answer
    asked.noteProgress();
  },
  trouble: stopped,
  lost: () => wasWhole && say(LOST), // else it has not come yet, which is said already
};

function stopped(report) {
  trouble = report;
  sayStopped(saved, report.sentence);
  if (report.isStalled || (report.isSignalLost && !wasWhole)) tryAgain(); // of what was whole, what is said of the lost file stands
  if (report.isSignalLost) return;
  if (report.isWrong && !isAskedForNewer) return lookForNewer();
  goOnWithoutSaving();
}

/** A phone that stays on its network while that leads nowhere, or whose host was gone, does not say when the signal is back. */
function tryAgain() {
  clearTimeout(again);
  again = setTimeout(save, AGAIN_MS);
}

/** The host can serve what the phone could not keep. */
function goOnWithoutSaving() {
  letEngineStart();
  settle();
}

/** The host may have gone on to a new version since this page began: what this one lacks is there no longer. */
async function lookForNewer() {
  isAskedForNewer = true;
  registersAgain = !registration?.active;
  if (registersAgain) return registration && followInstall();
  await Promise.race([registration.update(), new Promise((resolve) => setTimeout(resolve, UPDATE_LIMIT_MS))]).catch(() => {});
  if (!registration.installing && !registration.waiting) goOnWithoutSaving();
}

// Browsers end an install that takes some minutes. The next one goes on from there: try as long as that helps.
function saveStopped() {
  if (!registersAgain && (trouble || saved <= savedAtLastStop)) {
    if (!trouble?.isWrong) tryAgain();
    return sayStopped(saved, trouble?.sentence);
  }
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
  const { isOfPage } = await asked.stateOf(worker).catch(() => ({ isOfPage: true })); // it says nothing: the engine's own starts will tell
  if (isOfPage || engineRuns()) letEngineStart();
  else goOnWithStored();
}
