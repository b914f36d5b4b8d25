// Offers a new version, and takes it where the pilot says so, or where this page can no longer become whole.

import { RUNNING_CARD } from "./card_kept.js";

const workers = navigator.serviceWorker;

let registration = null;
let wasControlled = Boolean(workers?.controller);
let isOld = false; // another version than that of this page answers now
let reloadAsked = false;

/** Takes the registration that the offer is of. */
export function offerFrom(found) {
  registration = found;
  showOffer();
}

export function start() {
  document.getElementById("use-new-version").addEventListener("click", useNewVersion);
  addEventListener("storage", ({ key }) => (key === RUNNING_CARD || key === null) && cardChanged());
  document.addEventListener("fieldslate:card", cardChanged);
}

/** Another service worker answers from now on. Says whether the page is left. */
export function tookOver() {
  if (reloadAsked) {
    reloadAsked = false;
    location.reload();
    return true;
  }
  isOld = wasControlled;
  wasControlled = true;
  cardChanged();
  return false;
}

/** This page is of another version than the files on the phone, and its calculator does not run: it goes on by the latter. */
export function goOnWithStored() {
  isOld = true;
  showOffer();
  const [come] = performance.getEntriesByType("navigation");
  if (!cardRuns() && come?.type !== "reload") location.reload(); // once: a host may answer with now this version, now that
}

export function cardChanged() {
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

export function showOffer() {
  const newer = (registration?.active && registration.waiting) || isOld;
  document.getElementById("new-version").hidden = !newer || cardRuns();
}

function useNewVersion() {
  if (!registration?.waiting) return location.reload();
  reloadAsked = true;
  registration.waiting.postMessage({ kind: "take-over" });
}
