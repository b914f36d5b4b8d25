// What a page asks the service worker, and how long it waits for the answer.

import { ask } from "./messages.js";

const STATE_LIMIT_MS = 20_000;
const SILENCE_MS = 5_000; // a browser ends a service worker without a word
const CHECK_LIMIT_MS = 30_000; // of all files, for an engine that waits for it
const LOOK_LIMIT_MS = 60_000;

let hasSpoken = false;

/** Notes that saving goes on: whoever asked for it waits on. */
export const noteProgress = () => (hasSpoken = true);

export const stateOf = (worker) => ask(worker, "state", { engine: document.body.dataset.engine }, { limit: STATE_LIMIT_MS });

/** Has what is missing saved, however long that takes, as long as something comes. */
export function save(worker) {
  const goesOn = () => {
    const spoke = hasSpoken;
    hasSpoken = false;
    return spoke;
  };
  return ask(worker, "save", {}, { limit: SILENCE_MS, goesOn });
}

/** Has every file checked and fetched again where it is damaged. */
export const check = (worker) => ask(worker, "check", {}, { limit: CHECK_LIMIT_MS });

/** Has the file in that place of the list checked. */
export const look = (worker, place) => ask(worker, "look", { place }, { limit: LOOK_LIMIT_MS });
