// The entries as the form's fields hold them: strings, whatever group they stand in.

import { emptyTwice, isAsked, markTaps } from "./choice_taps.js";
import { listed, make, write } from "./page_parts.js";
import { askedIn, isWhole, markRows } from "./rows.js";
import { entryText, setEntry, textWithUnit } from "./units.js";

const MOST_SAID = 6; // what a line holds
const MOST_SAID_OF_ONCE = 2; // of a charger or a supply, which are known by their first figures

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

/** What Python is asked: an entry that is not there counts as what the form starts with, and one that was emptied is missing. */
export function questionOf(form, startsAs) {
  const entries = entriesOf(form);
  for (const [name, text] of Object.entries(startsAs)) if (text !== "" && !(name in entries) && form.elements.namedItem(name)) entries[name] = "";
  return entries;
}

/** Puts values, by name, into their fields but for those that `stay`, and says whether any field is there for one. */
export function fillIn(form, values, stay) {
  const known = [...values].filter(([name]) => form.elements.namedItem(name));
  for (const [name, text] of known) if (!stay.includes(name)) form.elements[name].value = text;
  emptyTwice(form);
  // What was built in, or typed before this script came, is in each entry's own unit too.
  for (const field of form.querySelectorAll("[name]")) setEntry(field, field.value);
  return known.length > 0;
}

export function askWhatApplies(form, startsAs) {
  for (const entry of form.querySelectorAll("[data-only-with]")) entry.hidden = !isAsked(entry);
  for (const entry of form.querySelectorAll("[data-unless]")) {
    const choice = form.elements[entry.dataset.unless];
    entry.hidden = !choice.closest(".entry").hidden && entry.dataset.unlessOptions.split(" ").includes(choice.value);
  }
  markRows(form, startsAs);
  markTaps(form);
  sayEntries(form, startsAs);
}

/** What is entered stays behind its line; a thing of several that is only begun stays open. */
export function fold(form, startsAs) {
  markRows(form, startsAs);
  for (const group of form.querySelectorAll("details.group:not([data-row-of])")) group.open = false;
  for (const row of form.querySelectorAll("[data-row-of]")) {
    row.open = !isWhole(row) && row.matches("[data-filled], [data-first-row], :has([data-alike])");
  }
}

/** Each line says what is entered behind it, as it was entered, with its unit; of a pack of one's own its name stands for its label. */
export function sayEntries(form, startsAs) {
  for (const group of form.querySelectorAll("details.group:has(> summary > .line-says)")) {
    const asked = askedIn(group).filter((field) => !field.closest("[data-own]")); // what is picked says the rest
    const fields = asked.filter((field) => field.value !== "");
    const own = fields.filter((field) => entryText(field) !== startsAs[field.name]);
    const said = group.hasAttribute("data-kept") || group.hasAttribute("data-row-of") ? own : fields;
    const isOnce = group.hasAttribute("data-kept");
    const isPicked = isOnce && group.querySelector("[data-own]") !== null;
    const nothing = isPicked ? listed(asked.filter(isNeeded).map(labelOf)) : isOnce ? "none" : "";
    const words = [group.dataset.ownName, ...said.slice(0, isOnce ? MOST_SAID_OF_ONCE : MOST_SAID).map(inWords)].filter(Boolean);
    write(group.querySelector(".line-says"), listed(words) || nothing);
    if (isOnce) write(group.querySelector(".line-act"), said.length ? "Change" : isPicked ? "Enter" : "Enter it once");
  }
}

const isNeeded = (field) => field.closest(".entry").querySelector(".optional") === null;
const labelOf = (field) => field.closest(".entry").querySelector("label").firstChild.textContent.trim();
const inWords = (field) => (field.options ? field.selectedOptions[0].textContent : textWithUnit(field));

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
  if (field?.closest("[data-taps-only]")) setTimeout(() => field.parentElement.querySelector("[data-taps] button").focus());
}
