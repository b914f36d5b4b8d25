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

/** Once more when the live answer takes the place of the one that was kept: they differ in height. Not if the pilot has moved on meanwhile. */
export function bringScrollBack(place, leaving) {
  const top = read()[place];
  if (!isNumber(top)) return;
  jumpTo(top);
  const ended = new AbortController();
  const { signal } = ended;
  leaving.addEventListener("abort", () => ended.abort(), { signal });
  for (const kind of ["wheel", "pointerdown", "keydown"]) addEventListener(kind, () => ended.abort(), { signal });
  const arrived = ({ detail: { kind } }) => {
    if (["kept", "waiting"].includes(kind)) return;
    ended.abort();
    jumpTo(top);
  };
  document.addEventListener("fieldslate:answer", arrived, { signal });
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
