// What a form begins with: the entries of the address, which may be a link's, or else the last ones of this phone. Readings come along
// only while they are true.

import { entriesInAddress, isWrittenHere } from "./address.js";
import { isOver, isTrueInAddress, keptEntries, measuredIn } from "./kept_entries.js";

/** Returns {values, isLink, old, moments}: text by name, whether a link brought it, the readings left out, and the moments of the others. */
export function startOf(form, startsAs) {
  const { entries, moment } = entriesInAddress(startsAs);
  const mine = keptEntries();
  const isMine = (name, text) => mine.get(name)?.[0] === text;
  const isLink = !isWrittenHere() && [...entries].some(([name, text]) => !isFixed(form, name) && !isMine(name, text));
  const values = entries.size ? entries : new Map(Array.from(mine, ([name, [text]]) => [name, text]));

  const old = [];
  const moments = new Map();
  for (const { name } of measuredIn(form).filter((field) => values.has(field.name))) {
    const isKept = !isLink && isMine(name, values.get(name));
    const taken = isKept ? mine.get(name)[1] : moment;
    const isTrue = isKept ? !isOver(name, taken, form) : isTrueInAddress(name, taken, form);
    if (isTrue) moments.set(name, taken);
    else old.push(name);
  }
  return { values, isLink, old, moments };
}

/** Says whether a card's job decides about an entry, and not the last entry. */
const isFixed = (form, name) => "fixed" in form.elements.namedItem(name).dataset;
