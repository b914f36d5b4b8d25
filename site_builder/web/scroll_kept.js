// Where each entry of the history was left, kept for the session: the browser remembers it for whole documents only.

import { keep, read } from "./stored.js";

const HERE = "sessionStorage"; // where nothing is kept, a page that is come back to begins at its top
const KEY = "fieldslate.scrolled"; // place -> the page's scroll

export function keepScroll(place) {
  keep(KEY, { ...read(KEY, HERE), [place]: scrollY }, HERE);
}

export function bringScrollBack(place) {
  const top = read(KEY, HERE)?.[place];
  if (top !== undefined) jumpTo(top);
}

export function jumpTo(top) {
  const jump = () => scrollTo({ top, behavior: "instant" });
  jump();
  requestAnimationFrame(jump); // a smooth scroll that was on its way still adds what it had left
}
