// Where each entry of the history was left, kept for the session: the browser remembers it for whole documents only.

const KEY = "fieldslate.scrolled"; // place -> the page's scroll

export function keepScroll(place) {
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ ...read(), [place]: scrollY }));
  } catch {
    // Where the browser refuses storage, a page that is come back to begins at its top.
  }
}

export function bringScrollBack(place) {
  const top = read()[place];
  if (top !== undefined) jumpTo(top);
}

export function jumpTo(top) {
  const jump = () => scrollTo({ top, behavior: "instant" });
  jump();
  requestAnimationFrame(jump); // a smooth scroll that was on its way still adds what it had left
}

function read() {
  try {
    return JSON.parse(sessionStorage.getItem(KEY)) ?? {};
  } catch {
    return {};
  }
}
