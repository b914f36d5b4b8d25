// Rows of things alike, "Packs alike: 2": they have one label between them, which is asked in the first row alone.

const MOST = 32; // no form has as many rows, and no pack as many cells

/** Returns the count that a text is, or 0: a text that is no count is sent back by Python. */
export const countIn = (text) => Array.from({ length: MOST }, (_, place) => place + 1).find((count) => String(count) === text) ?? 0;

/** Returns the name of the entry that holds for this one: of what is on the label of a row that is alike, the first row's. */
export function nameThatHolds(form, name) {
  const [, rows, number, own] = name.match(/^([a-z]+)_(\d+)_(.+)$/) ?? [];
  const alike = form.elements.namedItem(`alike_${rows}`);
  return alike && countIn(number) > 1 && countIn(number) <= countIn(alike.value.trim()) ? `${rows}_1_${own}` : name;
}

/** Marks what is not asked of the rows that are alike, and the rows themselves: they count, though nothing is typed in them yet, and so they
 * stand open for their readings. */
export function markAlike(form) {
  for (const field of form.querySelectorAll("[data-on-label]")) {
    const isAlike = nameThatHolds(form, field.name) !== field.name;
    const entry = field.closest(".entry");
    const row = field.closest("[data-row-of]");
    if (isAlike && row && !("alike" in entry.dataset)) row.open = true;
    entry.toggleAttribute("data-alike", isAlike);
    if (isAlike) field.closest("[data-optional-row]")?.setAttribute("data-filled", "");
  }
}
