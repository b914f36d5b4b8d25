// What the pilot must know of what this phone keeps, or does not: one sentence each, above the page, until it is closed.

import { make, makeButton } from "./page_parts.js";

const said = new Set();
const place = make("section", { class: "kept-notice", role: "status", "aria-label": "What this phone keeps" });

export function say(sentence) {
  if (said.has(sentence)) return;
  said.add(sentence);
  if (!place.isConnected) document.querySelector("main").before(place);
  const one = make("p", {}, sentence, " ", makeButton("I have read it", () => one.remove()));
  place.append(one);
}
