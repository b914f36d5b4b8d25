// What a file would change, shown before anything is changed, and taken in by a tap. Where nobody can know which of two holds, both are shown
// and the pilot chooses: until then what is here stays.

import { countOf } from "./log_words.js";
import { readFile } from "./own_file.js";
import { everything, takeIn } from "./own_import.js";
import { changesOf, CHANGED, NEW, resultOf, SAME, TWO } from "./own_merge.js";
import { FACTS, lineOf, measuredOf, stateOf } from "./own_words.js";
import { dayOf, listed, make, makeButton } from "./page_parts.js";
import { A_NUMBER_ALONE } from "./units.js";

const ENTRIES = { pack: "PackEntries", charger: "ChargerEntries", supply: "SupplyEntries" };
const CHOICES = { mine: "As it is here", theirs: "As it is in the file", both: "Keep both" };

/** Shows in a place what a file brings. `done` is called with what was done in the end, and `say` says a sentence meanwhile. */
export async function showPreview({ place, text, schema, done, say }) {
  const { records, leftOut, refused } = readFile(text, schema);
  if (refused) return say(refused);
  const here = await everything();
  const datedOf = Object.fromEntries(Object.keys(here).map((kind) => [kind, FACTS[kind].dated]));
  const changes = changesOf(records, here, { datedOf, now: Date.now(), mostInName: schema.$defs.Pack.properties.name.maxLength });
  const of = (how) => changes.filter((change) => change.how === how);
  const form = make("form", { class: "file-brings" }, make("h2", { tabindex: "-1" }, "What the file brings"));
  form.append(
    ...listOf("New", of(NEW).map(({ kind, theirs }) => [theirs.name, saying(kind, theirs)])),
    ...listOf("Changed", of(CHANGED).map(({ name, mine, merged }) => [name, changedWords(mine, merged)])),
    ...of(TWO).map((change) => choiceOf(change, schema)),
    ...listOf("Left out", leftOut.map((sentence) => ["", sentence])),
    ...(of(SAME).length ? [make("p", {}, `As it is here already: ${of(SAME).length}.`)] : []),
  );
  const brings = changes.some(({ how }) => how !== SAME);
  const leave = makeButton(brings ? "Leave all as it is" : "Back", () => done(""));
  form.append(make("p", { class: "own-actions" }, ...(brings ? [make("button", { class: "button strong" }, "Take it in"), " "] : []), leave));
  let isBeingTaken = false;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (isBeingTaken) return; // a second tap of cold fingers
    isBeingTaken = true;
    const chosen = new FormData(form);
    const choice = (change) => chosen.get(nameOf(change)) ?? "mine";
    const results = changes.map((change) => resultOf(change, choice(change)).map((thing) => ({ kind: change.kind, thing })));
    say("It is being taken in.");
    const outcome = await takeIn(results, here).finally(() => (isBeingTaken = false));
    if (outcome === "full") return say("Nothing was taken in: this phone cannot keep it. Make room, and choose the file again.");
    if (outcome === "kept") return done(`Taken in: ${of(NEW).length} new, ${of(CHANGED).length + of(TWO).filter((change) => choice(change) !== "mine").length} changed.`);
    await showPreview({ place, text, schema, done, say });
    return say("Something was changed in another tab meanwhile. This is what the file brings now.");
  });
  place.replaceChildren(form);
  say("");
  form.querySelector("h2").focus();
}

const nameOf = ({ kind, id }) => `${kind} ${id}`;

function listOf(title, lines) {
  if (!lines.length) return [];
  const items = lines.map(([name, says]) => make("li", {}, ...(name ? [make("b", {}, name), " "] : []), make("span", {}, says)));
  return [make("h3", {}, `${title}: ${lines.length}`), make("ul", { class: "file-list" }, ...items)];
}

const saying = (kind, thing) =>
  listed([lineOf(kind, thing), ...(kind === "pack" ? [...measuredOf(thing), stateOf(thing), thing.log.length ? `${countOf(thing.log)} in its log` : ""] : [])].filter(Boolean));

/** What is newer in the file, or was not here. */
function changedWords(mine, merged) {
  const more = (merged.log?.length ?? 0) - (mine.log?.length ?? 0);
  const measured = measuredOf(merged).filter((words) => !measuredOf(mine).includes(words));
  const isRefused = merged.refused && !mine.refused;
  const left = JSON.stringify(merged.state) === JSON.stringify(mine.state) || isRefused ? "" : stateOf(merged);
  const checked = merged.checked === mine.checked ? "" : `its cells were checked on ${dayOf(merged.checked)}`;
  return listed([isRefused ? `out of use since ${dayOf(merged.refused[1])}: ${merged.refused[0]}` : "", more ? `${more} more in its log` : "", ...measured, left, checked].filter(Boolean));
}

function choiceOf(change, schema) {
  const { name, mine } = change;
  const differences = differencesOf(change, schema).map((words) => make("li", {}, words));
  const options = Object.entries(CHOICES).map(([value, words]) => {
    const radio = make("input", { type: "radio", name: nameOf(change), value });
    radio.checked = value === "mine";
    return make("label", { class: "own-tick" }, radio, make("span", {}, words));
  });
  const legend = name === mine.name ? `Two of ${name}` : `The same under two names: ${mine.name} here, ${name} in the file`;
  return make("fieldset", {}, make("legend", {}, legend), make("ul", { class: "file-list" }, ...differences), ...options);
}

/** Each entry of which the two say different things: "Cells: 4 here, 6 in the file". */
function differencesOf({ kind, mine, theirs }, schema) {
  const { properties } = schema.$defs[ENTRIES[kind]];
  const says = ({ entries }, name) => {
    const text = entries[name];
    if (!text) return "nothing";
    if (name === "chemistry") return FACTS.short[text];
    return A_NUMBER_ALONE.test(text) && FACTS.signs[name] ? `${text}\u00a0${FACTS.signs[name]}` : text;
  };
  const entries = Object.entries(properties)
    .filter(([name]) => (mine.entries[name] ?? "") !== (theirs.entries[name] ?? ""))
    .map(([name, { title }]) => `${title}: ${says(mine, name)} here, ${says(theirs, name)} in the file`);
  const lines = (theirs.log ?? []).filter((line) => mine.log.some((own) => own.id === line.id && (own.note !== line.note || JSON.stringify(own.entries) !== JSON.stringify(line.entries))));
  return [...entries, ...lines.map(({ entries: { day } }) => `The line of ${dayOf(new Date(`${day}T12:00`).getTime())} in its log`)];
}
