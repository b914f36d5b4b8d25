// The last entries on this phone, one set for all calculators: a pack that is entered once is there on every page.
// Each is kept with the moment at which it was typed: a voltage of this morning must not be charged by this afternoon.

import * as stored from "./stored.js";
import { entryText } from "./units.js";

const KEY = "fieldslate.entries"; // name -> [text, moment]
const SPENT = "fieldslate.spent"; // name -> text that a charge has made untrue, though an address may still hold it
const A_MINUTE_MS = 60_000;

/** Keeps what the form holds now; what other calculators asked stays as it is, and so does a choice that a card makes itself. */
export function keep(values, form) {
  const before = read(KEY);
  const now = {};
  const isTheirs = (name) => !form.elements[name] || "fixed" in form.elements[name].dataset;
  for (const [name, [text, moment]] of Object.entries(before)) if (isTheirs(name)) now[name] = [text, moment];
  for (const [name, text] of Object.entries(values)) {
    if (!isTheirs(name)) now[name] = before[name]?.[0] === text ? before[name] : [text, Date.now()];
  }
  stored.keep(KEY, now);
  const spent = Object.entries(read(SPENT));
  if (spent.some(([name]) => name in values)) stored.keep(SPENT, Object.fromEntries(spent.filter(([name]) => !(name in values))));
}

export function kept() {
  return Object.fromEntries(Object.entries(read(KEY)).map(([name, [text]]) => [name, text]));
}

/** Notes that what the form holds of measured values is true no longer, and empties their fields. */
export function spend(form) {
  const spent = read(SPENT);
  for (const field of form.querySelectorAll("[data-measured]")) {
    if (field.value !== "") spent[field.name] = entryText(field);
    field.value = "";
  }
  stored.keep(SPENT, spent);
}

/** Returns the names of values that are true no longer: measured on this phone too long ago, or before a charge. */
export function outOfDate(values, form) {
  const before = read(KEY);
  const spent = read(SPENT);
  const isOld = (name) => before[name]?.[0] === values[name] && isOutOfDate(before[name][1], form);
  return Array.from(form.querySelectorAll("[data-measured]"), (field) => field.name).filter(
    (name) => name in values && (isOld(name) || spent[name] === values[name]),
  );
}

/** Says whether a measurement of that moment is too old to be true still. */
export const isOutOfDate = (moment, form) => Date.now() - moment > Number(form.dataset.measuredKeeps) * A_MINUTE_MS;

const read = (key) => stored.read(key) ?? {};
