// Offers a new version, and takes it where the pilot says so, or where this page can no longer become whole.

const workers = navigator.serviceWorker;

let registration = null;
let wasControlled = Boolean(workers?.controller);
let isOld = false; // another version than that of this page answers now
let reloadAsked = false;
let reloadsWithoutCard = false;
let cardRuns = null; // card_watch.js tells; until then nobody knows

/** Takes the registration that the offer is of. */
export function offerFrom(found) {
  registration = found;
  showOffer();
}

export function start() {
  document.getElementById("use-new-version").addEventListener("click", useNewVersion);
  document.addEventListener("fieldslate:card-runs", ({ detail }) => {
    cardRuns = detail;
    cardChanged();
  });
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
  reloadsWithoutCard = come?.type !== "reload"; // once: a host may answer with now this version, now that
  if (reloadsWithoutCard && cardRuns === false) location.reload();
}

export function cardChanged() {
  if (cardRuns === null) return;
  workers.controller?.postMessage({ kind: "card", running: cardRuns });
  showOffer();
  if (reloadsWithoutCard && !cardRuns) location.reload();
}

export function showOffer() {
  const newer = (registration?.active && registration.waiting) || isOld;
  document.getElementById("new-version").hidden = !newer || cardRuns !== false;
}

function useNewVersion() {
  if (!registration?.waiting) return location.reload();
  reloadAsked = true;
  registration.waiting.postMessage({ kind: "take-over" });
}
