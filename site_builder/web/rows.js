// The optional rows of a form ("Pack 3, if there is one"): what is typed in one counts, so it is marked, and never hidden at the start.

import { markAlike } from "./alike_rows.js";
import { isFilled } from "./choice_taps.js";
import { trustedHtml } from "./trusted.js";
import { entryText } from "./units.js";

/** Makes the optional rows that the page brings as one: each is the last with another number, and so is what it says of the one before. */
export function makeRows(form) {
  makeSpareRows(form);
  for (const place of form.querySelectorAll("[data-group]")) fillLike(form, place);
}

/** What a later row asks, the page has in the first row alone: "packs-2-more" is filled like "packs-1-more", and "packs-3", which has no such fold of
 * its own, like all of it. */
function fillLike(form, place) {
  const [, rows, number, part] = place.dataset.group.match(/^(.+)-(\d+)(-.+)?$/);
  if (number === "1") return;
  const within = part ? `[data-group="${rows}-1${part}"] ` : "";
  const hasMore = !part && form.querySelector(`[data-group^="${rows}-${number}-"]`);
  for (const field of form.querySelectorAll(`${within}[name^="${rows}_1_"]`)) {
    if (hasMore && field.closest("[data-group]")) continue;
    const html = field.closest(".entry").outerHTML;
    place.insertAdjacentHTML("beforeend", trustedHtml(html.replaceAll(`${rows}_1_`, `${rows}_${number}_`)));
  }
}

function makeSpareRows(form) {
  for (const template of form.querySelectorAll("template[data-rows]")) {
    const { rows, label, from, last } = template.dataset;
    template.previousElementSibling.remove(); // it held the place of the first, so that nothing moves now
    const numbered = new RegExp(`\\b(${rows}[_-]|${label} )(${last}|${last - 1})(?!\\d)`, "g");
    for (let number = Number(from); number <= last; number += 1) {
      const html = template.innerHTML.replace(numbered, (_, name, its) => `${name}${its === last ? number : number - 1}`);
      template.insertAdjacentHTML("beforebegin", trustedHtml(html));
    }
    template.remove();
  }
}

/** Marks each optional row in which something is typed. The style sheet shows those, and the next one. */
export function markRows(form, startsAs) {
  for (const row of form.querySelectorAll("[data-row-of], [data-optional-row]")) {
    const fields = [...row.querySelectorAll("[name]")];
    row.toggleAttribute("data-filled", fields.some((field) => entryText(field) !== startsAs[field.name]));
  }
  markAlike(form);
}

export const askedIn = (group) => [...group.querySelectorAll(".entry:not([hidden]) [name]")];

/** Says whether all that must be entered in a group is. */
export const isWhole = (group) => askedIn(group).every((field) => isFilled(field) || field.closest(".entry").querySelector(".optional"));

// Whoever opens one of several things alike is done with those that are whole.
document.addEventListener(
  "toggle",
  ({ target }) => {
    if (!target.matches?.("[data-row-of][open]")) return;
    for (const other of target.closest("form").querySelectorAll("[data-row-of][open]")) {
      if (other !== target && isWhole(other)) other.open = false;
    }
  },
  { capture: true },
);

// A row may take over the label of the row before it, and nothing that is true of one pack alone.
document.addEventListener("click", ({ target }) => {
  const button = target.closest?.("[data-before]");
  if (!button) return;
  const { row, before } = button.dataset;
  for (const field of button.form.querySelectorAll(`[data-on-label][name^="${row}"]`)) {
    field.value = button.form.elements[field.name.replace(row, before)].value;
  }
  button.dispatchEvent(new Event("input", { bubbles: true }));
  button.form.querySelector(`[data-measured][name^="${row}"]`)?.focus();
});
