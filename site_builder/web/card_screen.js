// Keeps the screen on while a card runs, and says plainly where the browser does not let it.

import { write } from "./card_parts.js";

let lock = null;
let isWanted = false;

/** The browser lets go of the screen whenever the page is hidden, so this is called again at each return. */
export async function keepScreenOn(place) {
  isWanted = true;
  if (document.hidden) return;
  try {
    if (!lock || lock.released) lock = await navigator.wakeLock.request("screen");
    write(place, "The screen stays on while this page is in front.");
  } catch {
    write(place, "This browser cannot keep the screen on: set it in the phone.");
  }
  if (!isWanted) letScreenGo();
}

export function letScreenGo() {
  isWanted = false;
  lock?.release();
  lock = null;
}
