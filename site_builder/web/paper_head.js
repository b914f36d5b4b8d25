// What stands at the head of a printed sheet and only this phone knows: whose pack it is, when it was printed, and what was entered for it.
// Without it, and on a blank form, the sheet has lines to write on.

import { shortLabelOf } from "./card_figures.js";
import { pickedThing } from "./own_picked.js";
import { atOnDay, make } from "./page_parts.js";

const STANDS = ["answer", "partial"];

export const start = () => addEventListener("beforeprint", fill);

function fill() {
  const [answer, form] = ["answer", "entries"].map((id) => document.getElementById(id));
  const head = answer?.querySelector(".paper-head");
  if (!head || !form || !STANDS.includes(answer.dataset.state)) return;
  const [pack, date] = head.querySelectorAll("b:has(+ .box)");
  pack.textContent = packsOf(form, document.getElementById("answer-body"));
  date.textContent = atOnDay(Date.now());
  head.querySelector(".entered")?.remove();
  head.append(make("p", { class: "entered" }, enteredIn(form)));
}

/** Returns the names of the packs that are ticked or picked, else what is on the label. */
function packsOf(form, body) {
  const ticked = Array.from(document.querySelectorAll(".own-tick:has(input:checked) b"), ({ textContent }) => textContent);
  return ticked.join(", ") || [pickedThing("pack")?.name, shortLabelOf(form, body)].filter(Boolean).join(", ");
}

/** Returns what was read, and the charger and the supply, in the words of their lines on the form. */
function enteredIn(form) {
  const read = form.querySelector(".readings-line:not([hidden]) span")?.textContent;
  const lines = Array.from(form.querySelectorAll("details[data-kept] > summary"), (line) => [line.querySelector("b"), line.querySelector(".line-says")]);
  const kept = lines.map((line) => line.map((part) => part?.textContent.trim() ?? "")).filter(([, says]) => says && says !== "none");
  return [...(read ? [`Read: ${read}`] : []), ...kept.map((line) => line.join(": "))].join(". ");
}
