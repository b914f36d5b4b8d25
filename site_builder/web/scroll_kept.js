// Where each entry of the history was left, kept for the session: the browser remembers it for whole documents only. Where nothing can
// be kept, a page that is come back to begins at its top.

import { isGroup, isNumber } from "./shapes.js";

const KEY = "fieldslate.scrolled"; // place -> the page's scroll

export function keepScroll(place) {
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ ...read(), [place]: scrollY }));
  } catch {
    // Said above.
  }
}

export function bringScrollBack(place) {
  const top = read()[place];
  if (isNumber(top)) jumpTo(top);
}

export function jumpTo(top) {
  const jump = () => scrollTo({ top, behavior: "instant" });
  jump();
  requestAnimationFrame(jump); // a smooth scroll that was on its way still adds what it had left
}

function read() {
  try {
    const kept = JSON.parse(sessionStorage.getItem(KEY));
    return isGroup(kept) ? kept : {};
  } catch {
    return {};
  }
}
