// The engine as the pages have it: started once, kept from page to page, and heard by the page that is open.

import * as engine from "./engine.js";
import { engineMayStart } from "./offline.js";

let state = null; // "starting", perhaps "slow", then "ready" or "failed"
let hear = () => {};

export const engineState = () => state;

/** Lets `hears` have the engine's news until the page is left. Starts it from its folder, and again where it has failed. */
export async function open(folder, hears, leaving) {
  hear = hears;
  leaving.addEventListener("abort", () => (hear = () => {}));
  if (state && state !== "failed") return;
  state = "starting";
  await engineMayStart;
  engine.start(folder, heard);
}

export const ask = engine.ask;

function heard(message) {
  if (!message.id) state = message.kind; // of the engine itself, not an answer
  hear(message);
}
