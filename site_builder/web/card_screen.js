// Keeps the screen on while a card runs, and says plainly where the browser does not let it.

import { make, write } from "./page_parts.js";

let lock = null;
let isWanted = false;

export const screenLine = make("p", { class: "card-screen" });

/** The browser lets go of the screen whenever the page is hidden, so this is called again at each return. */
export async function keepScreenOn() {
  isWanted = true;
  if (document.hidden) return;
  try {
    if (!lock || lock.released) lock = await navigator.wakeLock.request("screen");
    lock.onrelease = () => write(screenLine, "The screen may go off now: set it in the phone."); // until the next look at the clock
    write(screenLine, "The screen stays on while Fieldslate is in front.");
  } catch {
    write(screenLine, "This browser cannot keep the screen on: set it in the phone.");
  }
  if (!isWanted) letScreenGo();
}

export function letScreenGo() {
  isWanted = false;
  lock?.release();
  lock = null;
}
