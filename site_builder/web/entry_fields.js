// The entries as the form's fields hold them: strings, whatever group they stand in.

import { make } from "./page_parts.js";
import { foldRows, markRows } from "./rows.js";
import { entryText, setEntry } from "./units.js";

/** Returns what each field was built with, not what stands in it: somebody may have typed before this script came. */
export function builtValues(form) {
  return Object.fromEntries(Array.from(form.querySelectorAll("[name]"), (field) => [field.name, builtValue(field)]));
}

function builtValue(field) {
  if (!field.options) return field.defaultValue;
  const options = [...field.options];
  return (options.find((option) => option.defaultSelected) ?? options[0]).value;
}

export function entriesOf(form) {
  const typed = Array.from(form.querySelectorAll("[name]"), (field) => [field.name, entryText(field)]);
  return Object.fromEntries(typed.filter(([, text]) => text !== ""));
}

/** Puts values, by name, into their fields but for those that `stay`, and says whether any field is there for one. */
export function fillIn(form, values, stay) {
  const known = [...values].filter(([name]) => form.elements.namedItem(name));
  for (const [name, text] of known) if (!stay.includes(name)) form.elements[name].value = text;
  // What was built in, or typed before this script came, is in each entry's own unit too.
  for (const field of form.querySelectorAll("[name]")) setEntry(field, field.value);
  return known.length > 0;
}

export function askWhatApplies(form, startsAs) {
  for (const entry of form.querySelectorAll("[data-only-with]")) {
    const choice = form.elements[entry.dataset.onlyWith];
    // A choice stands above what belongs to it, so whether it is asked itself is settled already.
    entry.hidden = choice.closest(".entry").hidden || !entry.dataset.onlyOptions.split(" ").includes(choice.value);
  }
  markRows(form, startsAs);
}

/** What is the same from pack to pack is folded away once it is there. */
export function fold(form, startsAs) {
  for (const group of form.querySelectorAll("details[data-kept]")) {
    const asked = [...group.querySelectorAll(".entry:not([hidden]) [name]")];
    group.open = asked.some((field) => field.value === "" && !field.closest(".entry").querySelector(".optional"));
  }
  foldRows(form, startsAs);
}

export function markProblems(form, problems) {
  for (const field of form.elements) {
    const sentence = problems[field.name];
    const line = document.getElementById(`problem-${field.name}`) ?? (sentence && lineBelow(field));
    if (!line) continue;
    line.textContent = sentence ?? "";
    line.hidden = !sentence;
    if (sentence) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  }
}

/** The place of what is wrong with an entry. On a card, whose entries stand on another page, there is none. */
function lineBelow(field) {
  const entry = field.closest(".entry");
  if (!entry) return null;
  const line = make("p", { class: "problem", id: `problem-${field.name}` });
  entry.append(line);
  field.setAttribute("aria-describedby", [field.getAttribute("aria-describedby"), line.id].filter(Boolean).join(" "));
  return line;
}

/** A link to an entry opens the group that it is folded away in. */
export function unfoldEntry({ target }) {
  const field = document.getElementById(target.closest?.('a[href^="#entry-"]')?.hash.slice(1) ?? "");
  const group = field?.closest("details");
  if (group) group.open = true;
}
