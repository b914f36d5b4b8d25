// The form in which one of the pilot's own things is entered. What is asked, the build has made from what the calculators ask; what is typed is
// kept as it is, and the calculator says of it what it says of every entry.

import { askWhatApplies, builtValues, entriesOf, fillIn } from "./entry_fields.js";
import { makeRows } from "./rows.js";
import { picked, save, thingOf } from "./own_kept.js";
import { pick } from "./own_picked.js";
import { FACTS } from "./own_words.js";
import { plain } from "./plain_text.js";
import { offerUnits } from "./units.js";

let form, kind, thing, startsAs, done;

/** Shows the form for a thing in a place. `then` is called with what was saved, and whether it is on the disk. */
export function showForm({ place, kind: whichKind, thing: which, done: then }) {
  [kind, thing, done] = [whichKind, which, then];
  place.replaceChildren(document.getElementById("own-form").content.cloneNode(true));
  form = place.querySelector("form");
  makeRows(form);
  startsAs = builtValues(form);
  form.elements.own_name.value = thing.name;
  fillIn(form, Object.entries(thing.entries), []);
  askWhatApplies(form, startsAs);
  for (const group of form.querySelectorAll("details.group")) group.open = group.matches("[data-kept], [data-row-of]:not([data-optional-row])") || [...group.querySelectorAll("[name]")].some(({ name }) => thing.entries[name]);
  offerUnits(form);
  form.addEventListener("input", () => askWhatApplies(form, startsAs));
  form.addEventListener("submit", keepIt);
  if (!thing.isNew || thing.entries.cells) form.elements.own_name.focus();
}

async function keepIt(event) {
  event.preventDefault();
  const missing = [...form.querySelectorAll(".entry:not([hidden]) [name]")].find(isMissing);
  form.querySelectorAll("[aria-invalid]").forEach((field) => field.removeAttribute("aria-invalid"));
  const problem = form.querySelector("#own-problem");
  problem.hidden = !missing;
  if (missing) {
    const label = form.querySelector(`label[for="${missing.id}"]`).firstChild.textContent.trim();
    problem.textContent = `Still needed: ${label}.`;
    missing.setAttribute("aria-invalid", "true");
    (missing.closest(".entry").querySelector(".taps button") ?? missing).focus();
    return;
  }
  const { own_name: typed, ...entries } = entriesOf(form);
  const name = plain(typed);
  const hidden = [...form.querySelectorAll(".entry[hidden] [name]")].map((field) => field.name); // not asked for what was chosen
  for (const one of hidden) delete entries[one];
  const { isNew: _, ...before } = thing;
  const now = thingOf(kind, thing.id) ?? before;
  for (const one of FACTS[kind].dated.filter((asked) => (entries[asked] ?? "") === (before.entries[asked] ?? ""))) {
    delete entries[one]; // it stands as it stood: what a log has of it since counts
    if (now.entries[one]) entries[one] = now.entries[one];
  }
  const next = { id: thing.id, name, entries, dates: datesOf(entries, now) };
  const isKept = await save(kind, next, before);
  if (picked()[kind] === next.id) await pick(kind, next.id, picked().output);
  done(next, isKept);
}

/** What may be left out says so; a row of the form that is not begun may be left out whole. */
const isMissing = (field) => plain(field.value) === "" && !field.closest(".entry").querySelector(".optional") && !field.closest("[data-optional-row]:not([data-filled])");

/** A measurement has the day on which it was entered; one that stays the same keeps its own. */
function datesOf(entries, now) {
  const dated = FACTS[kind].dated.filter((name) => entries[name]);
  return Object.fromEntries(dated.map((name) => [name, (now.entries[name] === entries[name] && now.dates[name]) || Date.now()]));
}
