// What the pilot must know of what this phone keeps, or does not: one sentence each, above the page, until it is closed.

import { make, makeButton } from "./page_parts.js";

const said = new Map(); // sentence -> its line
const place = make("section", { class: "kept-notice", role: "status", "aria-label": "What this phone keeps" });

export function say(sentence) {
  if (said.has(sentence)) return;
  if (!place.isConnected) document.querySelector("main").before(place);
  const one = make("p", {}, sentence, " ", makeButton("I have read it", () => one.remove()));
  said.set(sentence, one);
  place.append(one);
}

/** Takes away what holds no more, and says whether it was said: it can be said once more. */
export function takeAway(sentence) {
  said.get(sentence)?.remove();
  return said.delete(sentence);
}
