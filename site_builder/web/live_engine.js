// The engine as the pages have it: started once, kept from page to page, and heard by the page that is open.

import * as engine from "./engine.js";
import { engineMayStart, engineUp } from "./engine_gate.js";

let folder;
let state = null; // "starting", perhaps "slow", then "ready" or "failed"
let hearer = null; // of the page that is open: {news, answered}

export const engineState = () => state;

/** Lets the page that has come hear of the engine until it is left. Starts it from its folder, and again where it has failed. */
export async function open(itsFolder, hears, leaving) {
  hearer = hears;
  leaving.addEventListener("abort", () => (hearer = null));
  folder = itsFolder;
  if (state === null) listen();
  if (state === null || state === "failed") await begin();
}

export const ask = engine.ask;

/** Asks once the engine is up, and returns what it says: no newer question drops this one, and the page that is open does not hear of it. */
export const askBeside = (...question) => engineUp.then(() => engine.askBeside(...question));

/** Returns a text as a QR code, in SVG, once the engine is up. */
export const qrCode = (text) => engineUp.then(() => engine.qrCode(text));

/** What kept the engine from starting may be over: a host that stood still, a signal that was lost, a phone that had no room. */
export function tryAgain() {
  if (state !== "failed" || document.hidden) return;
  begin();
  hearer?.news(state);
}

function listen() {
  addEventListener("online", tryAgain);
  document.addEventListener("visibilitychange", tryAgain);
  document.addEventListener("fieldslate:all-saved", tryAgain);
}

async function begin() {
  state = "starting";
  await engineMayStart;
  engine.start(folder, { news, answered: (answer) => hearer?.answered(answer) });
}

function news(kind) {
  state = kind;
  hearer?.news(kind);
}
