// Takes back what was cleared in a form: its text, and of readings the moment at which they were taken.

import { make, makeButton } from "./page_parts.js";
import { putBack, takenAt } from "./readings.js";
import { entryText, setEntry } from "./units.js";

let offered = new AbortController();

/** Remembers fields that are about to be cleared, and returns what then offers to take that back, and does `also` with it. */
export function beforeClearing(form, fields) {
  const before = Array.from(fields).filter(({ name }) => name).map((field) => ({ field, text: entryText(field), moment: takenAt(field) }));
  return (words, also = () => {}) => offer(form, words, before, also);
}

/** The offer stands until something is typed where it was cleared, or until another pack is picked. */
function offer(form, words, before, also) {
  offered.abort();
  offered = new AbortController();
  const line = form.querySelector("#undo");
  const { signal } = offered;
  const undo = makeButton("Undo", () => {
    offered.abort();
    also();
    takeBack(form, before);
    line.focus();
  });
  signal.addEventListener("abort", () => line.replaceChildren());
  line.replaceChildren(make("span", {}, words), undo);
  const typed = ({ target }) => before.some(({ field }) => field === target) && offered.abort();
  form.addEventListener("input", typed, { signal });
  document.addEventListener("fieldslate:picked", () => offered.abort(), { signal });
}

function takeBack(form, before) {
  for (const { field, text, moment } of before) {
    setEntry(field, text);
    putBack(field, moment);
  }
  form.dispatchEvent(new CustomEvent("fieldslate:undone"));
}
