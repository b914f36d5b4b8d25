// The readings that stand in the form at hand, each with the moment at which it was taken: what was measured is true for a while only.

import { hearOfGoingBack } from "./clocks.js";
import { isOver, measuredIn } from "./kept_entries.js";
import { entryText } from "./units.js";

const LONG_AGO = 0;
const taken = new Map(); // name -> [text, moment]

hearOfGoingBack(() => taken.forEach(([text], name) => taken.set(name, [text, LONG_AGO])));

/** Begins with a form that was filled in, `moments` being those of its readings by name. */
export function begin(form, moments) {
  taken.clear();
  for (const [name, moment] of moments) taken.set(name, [entryText(form.elements[name]), moment]);
}

/** Notes that a field was typed in now. */
export function note(field) {
  const text = entryText(field);
  if ("measured" in field.dataset && taken.get(field.name)?.[0] !== text) taken.set(field.name, [text, Date.now()]);
}

/** Returns the moment of a reading, or undefined for what is none. */
export const takenAt = ({ name }) => taken.get(name)?.[1];

/** Notes that what stands in a field now was read at that moment, or not at all. */
export function putBack(field, moment) {
  if (moment === undefined) taken.delete(field.name);
  else taken.set(field.name, [entryText(field), moment]);
}

/** Takes the moment of a reading along to the field that it has moved to. */
export function carry(from, to) {
  putBack(to, takenAt(from));
}

/** Returns the moments of the readings that stand in the form, by name. */
export const moments = (form) => new Map(measuredIn(form).filter(({ value, name }) => value !== "" && taken.has(name)).map(({ name }) => [name, taken.get(name)[1]]));

/** Returns the moment of the oldest, or null where there is none. */
export function oldest(form) {
  const all = [...moments(form).values()];
  return all.length ? Math.min(...all) : null;
}

/** Empties the fields of the readings that are true no longer, and says whether there were any. */
export function takeAwayOld(form) {
  const old = measuredIn(form).filter(({ name, value }) => value !== "" && isOver(name, taken.get(name)?.[1] ?? LONG_AGO, form));
  for (const field of old) {
    field.value = "";
    taken.delete(field.name);
  }
  return old.length > 0;
}
