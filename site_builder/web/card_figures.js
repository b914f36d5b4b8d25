// The figures of a job card: out of a calculator's answer, into the places that the card's steps keep for them. Strings only.

import { lineOf } from "./own_words.js";
import { make } from "./page_parts.js";
import { parsed } from "./trusted.js";
import { A_NUMBER_ALONE, entryText } from "./units.js";

const LABEL = ["chemistry", "cells", "capacity_mah"];
const NOT_HERE = "does not apply to these entries";

/** Returns a card's steps with the figures of an answer in them, both HTML, and the labels of the packs that they are for. */
export function withFigures(steps, answer, labels) {
  const [card, found] = [steps, answer].map(bodyOf);
  const packs = card.querySelector(".card-packs");
  packs.hidden = labels.length === 0;
  packs.append(...labels.map((label) => make("p", {}, label)));
  for (const timer of card.querySelectorAll("[data-minutes-of]")) {
    const { minutes } = found.querySelector(`[data-part="${timer.dataset.minutesOf}"] .figure`)?.dataset ?? {};
    if (minutes) timer.dataset.minutes = minutes;
    else timer.remove();
  }
  card.querySelector("[data-cautions]")?.replaceChildren(...found.querySelectorAll(".cautions, .not-counted"));
  for (const place of card.querySelectorAll("[data-from]")) {
    const part = found.querySelector(`[data-part="${place.dataset.from}"]`);
    const [figure, ...beside] = part?.querySelectorAll(".figure, .also, .set-by") ?? [];
    if (!figure) place.textContent = NOT_HERE;
    else if (place.matches(".step-figure")) place.replaceChildren(...[figure, ...beside].flatMap((one) => [one.cloneNode(true), " "]));
    else place.textContent = figure.textContent;
  }
  return card.innerHTML;
}

/** Returns what was entered of each pack's label, a line for each, in the words of the form and as it was typed. */
export function labelsOf(form) {
  const fields = [...form.querySelectorAll("[data-says]")].filter(({ value }) => value !== "");
  const packs = [...new Set(fields.map(({ dataset }) => dataset.of))].map((pack) => fields.filter(({ dataset }) => dataset.of === pack));
  const entered = packs.filter((known) => known.some(({ dataset }) => !("starts" in dataset)));
  return entered.map((known) => `${known[0].dataset.of}${known.map(inWords).join("; ")}`);
}

/** Returns a pack's kind, cells and capacity in one line, or how many packs a card is for. */
export function shortLabelOf(form, card) {
  const packs = card.querySelectorAll(".card-packs p");
  if (packs.length > 1) return `${packs.length} packs`;
  const fields = LABEL.map((name) => form.elements.namedItem(name)).filter(Boolean);
  return lineOf("pack", { entries: Object.fromEntries(fields.map((field) => [field.name, entryText(field)])) });
}

const inWords = ({ value, dataset: { says, sign, words } }) =>
  words ? JSON.parse(words)[value] : `${says} ${A_NUMBER_ALONE.test(value) ? `${value}\u00a0${sign}` : value}`;

/** Returns a refusal whose links to entries lead to the page that has them. */
export function withLinksTo(address, refusal) {
  const place = bodyOf(refusal);
  for (const link of place.querySelectorAll('a[href^="#entry-"]')) {
    link.href = `${address}${link.getAttribute("href")}`;
  }
  return place.innerHTML;
}

const bodyOf = (html) => parsed(html).body;
