// Takes one of the optional rows of a form out ("Remove Pack 3"): the rows behind it move up, each reading as old as it was.

import { beforeClearing } from "./form_undo.js";
import { carry } from "./readings.js";
import { entryText, setEntry } from "./units.js";

/** Removes the row that the button names, and offers to take that back. */
export function removeRow(form, button, startsAs) {
  const [, rows, number] = button.dataset.remove.match(/^(.+)_(\d+)_$/);
  const later = [...form.querySelectorAll(`[data-optional-row] [name^="${rows}_"]`)].filter((field) => placeOf(field, rows) >= Number(number));
  const offerUndo = beforeClearing(form, later);
  for (const field of later) {
    const next = form.elements.namedItem(field.name.replace(/_\d+_/, `_${placeOf(field, rows) + 1}_`));
    setEntry(field, next ? entryText(next) : startsAs[field.name]);
    if (next) carry(next, field);
  }
  offerUndo(`${button.dataset.removes} is taken out.`);
}

const placeOf = ({ name }, rows) => Number(name.slice(rows.length + 1).split("_")[0]);
