// The last entries on this phone, one set for all calculators: a pack that is entered once is there on every page.
// Each is kept with the moment at which it was typed: a voltage of this morning must not be charged by this afternoon.

import { hearOfGoingBack, isDoubtful, since } from "./clocks.js";
import { nameNow } from "./former_names.js";
import * as kept from "./kept.js";
import { isGroupOf, isListOf, isNumber, isText } from "./shapes.js";

const A_MINUTE_MS = 60_000;
const LONG_AGO = 0; // the moment of what can be of any age

export const ENTRIES = {
  name: "entries", // name -> [text, moment]
  version: 1,
  called: "your entries",
  fits: (value) => isGroupOf(value, (one) => isListOf(one, (part) => isText(part) || isNumber(part)) && isText(one[0]) && isNumber(one[1])),
  onDamage: endEverything,
};
export const OVER = {
  name: "over", // name -> the moment up to which a charge has made its readings untrue, though an address may still hold them
  version: 1,
  called: "which readings are from before your last charge",
  isQuiet: true,
  fits: (value) => isGroupOf(value, isNumber),
  onDamage: endEverything,
};
const EVERYTHING = ""; // among the names in `over`: no reading of any name is true if it is of before

hearOfGoingBack((by) => {
  if (by === 0) endEverything(); // an address has no moment that could be believed
  const over = kept.read(OVER); // what is read from now on has not ended, though the clock comes over that moment once more
  if (over) kept.keep(OVER, Object.fromEntries(Object.entries(over).map(([name, moment]) => [name, Math.min(moment, Date.now())])));
  if (kept.read(ENTRIES)) kept.keep(ENTRIES, Object.fromEntries(Array.from(keptEntries(), ([name, [text]]) => [name, [text, LONG_AGO]])));
});
kept.hearOf(ENTRIES, () => {}); // what another tab writes is read here from now on
kept.hearOf(OVER, () => document.dispatchEvent(new CustomEvent("fieldslate:look"))); // and a card that was ended there has used readings up

/** Keeps what the form holds now, `moments` being those of its readings; what other calculators asked stays as it is, and so does a
 *  choice that a card makes itself. */
export function keep(values, form, moments) {
  const before = keptEntries();
  const isTheirs = (name) => !form.elements.namedItem(name) || "fixed" in form.elements[name].dataset;
  const momentOf = (name, text) => moments.get(name) ?? (before.get(name)?.[0] === text ? before.get(name)[1] : Date.now());
  const ours = Object.entries(values).filter(([name]) => !isTheirs(name));
  const next = Object.fromEntries([
    ...[...before].filter(([name]) => isTheirs(name)),
    ...ours.map(([name, text]) => [name, [text, momentOf(name, text)]]),
  ]);
  if (JSON.stringify(next) !== JSON.stringify(kept.read(ENTRIES) ?? {})) kept.keep(ENTRIES, next);
}

/** Puts entries into the place of those of the same names, whatever page asks them, and takes away those that are `gone`. Readings among them
 *  are as old as `moments` says. */
export function putEntries(texts, gone, moments = new Map()) {
  const others = [...keptEntries()].filter(([name]) => !(name in texts) && !gone.includes(name));
  const entered = Object.entries(texts).filter(([, text]) => text !== "");
  return kept.keep(ENTRIES, Object.fromEntries([...others, ...entered.map(([name, text]) => [name, [text, moments.get(name) ?? Date.now()]])]));
}

/** Puts entries back as they were kept before, each with its own moment: those of the same names go. */
export const putBackEntries = (entries) =>
  kept.keep(ENTRIES, Object.fromEntries(Object.entries({ ...Object.fromEntries(keptEntries()), ...entries }).filter(([, [text]]) => text !== "")));

/** Notes that a charge has not touched what was read by these names. */
export const notSpent = (names) => kept.keep(OVER, Object.fromEntries(Object.entries(kept.read(OVER) ?? {}).filter(([name]) => !names.includes(name))));

/** Returns the kept entries by name, each as its text and its moment. */
export const keptEntries = () => new Map(Object.entries(kept.read(ENTRIES) ?? {}).map(([name, one]) => [nameNow(name), one]));

/** Notes that whatever was measured up to now is true no longer. */
export function spendAll() {
  kept.keep(OVER, { ...kept.read(OVER), ...Object.fromEntries([...keptEntries().keys()].map((name) => [name, Date.now()])) });
}

/** Notes the same where it is lost what a charge has ended: kept, it holds for the pages after this one too. */
function endEverything() {
  kept.keep(OVER, { ...kept.read(OVER), [EVERYTHING]: Date.now() });
}

export const measuredIn = (form) => [...form.querySelectorAll("[data-measured]")];

/** Says whether a reading of that moment is true no longer: it is too old, or from before a charge. */
export const isOver = (name, moment, form) =>
  [name, EVERYTHING].some((ended) => moment <= (kept.read(OVER)?.[ended] ?? LONG_AGO)) || since(moment) > Number(form.dataset.measuredKeeps) * A_MINUTE_MS;

/** Says whether a reading in an address may be true still: it needs its moment, and this phone's clock must be sure of it. */
export const isTrueInAddress = (name, moment, form) => moment !== null && !isDoubtful(moment) && !isOver(name, moment, form);
