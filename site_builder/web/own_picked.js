// Puts a thing that is picked into the entries: what is on its label, as if it were typed, and no reading. A thing counts as picked only for
// as long as the entries say what its label says.

import { builtValues } from "./entry_fields.js";
import { beforeClearing } from "./form_undo.js";
import { keptEntries, putEntries } from "./kept_entries.js";
import { keepPicked, note, noteNow, picked, thingOf } from "./own_kept.js";
import { isSecond, outputName, readingsOf, SECONDS, secondTexts, thingKind } from "./own_second.js";
import { FACTS, outputNumbers, refusalOf } from "./own_words.js";
import { entryText, setEntry } from "./units.js";

// A voltage that is half typed is lower than any floor: what is found of a pack counts once nothing was typed for so long.
const SURE_AFTER_MS = 10_000;

let found = []; // {id, sentence}: what the last answer found of each pack, until it counts
let sure; // runs until then

/** Returns the form at hand, or null. */
const formHere = () => document.getElementById("entries");

/** Returns what a thing puts into the entries, by name. */
export function textsOf(kind, { entries }, output = "1") {
  const textOf = (name) => entries[name] ?? entries[`outputs_${output}_${name}`] ?? "";
  if (isSecond(kind)) return secondTexts(kind, textOf, Object.keys(entries).length === 0);
  const texts = Object.fromEntries(FACTS[kind].names.map((name) => [name, textOf(name)]));
  return kind === "charger" ? { ...texts, ...besideOutput(entries, output) } : texts;
}

/** A plan asks a second output too: it is the first of the others, or of another charger that is picked for it. */
function besideOutput(entries, output) {
  const other = outputNumbers(entries).find((number) => number !== output);
  if (!other && pickedThing("second_charger")) return {};
  const ofOther = Object.entries(FACTS.secondOutput).map(([name, own]) => [name, entries[`outputs_${other}_${own}`] ?? ""]);
  return { charger_outputs: other ? "2" : "", second_charger: "", ...Object.fromEntries(ofOther) };
}

/** Says whether a form asks for a charger with both of its outputs: it is picked as a whole then, from its first output on. */
export const asksBothOutputs = (form) => Object.keys(FACTS.secondOutput).some((name) => form.elements.namedItem(name));

/** Picks a thing, or none where there is no `id`: its label is entered, and the readings of the one before are emptied. */
export async function pick(kind, id, output = "1") {
  settleFound();
  const thing = id && thingOf(thingKind(kind), id);
  const texts = textsOf(kind, thing || { entries: {} }, output);
  const readings = readingsOf(kind);
  const before = picked();
  const form = formHere();
  const fields = form ? fieldsOf(form, [...Object.keys(texts), ...readings]) : [];
  const offerUndo = losesWhatWasTyped(kind, fields) && beforeClearing(form, fields);
  const { [kind]: _, ...others } = before;
  const which = thing ? { ...others, [kind]: id, ...(thingKind(kind) === "charger" && { [outputName(kind)]: output }) } : others;
  const written = Promise.all([putEntries(texts, readings), keepPicked(which)]);
  if (form) fillIn(fields, texts);
  document.dispatchEvent(new CustomEvent("fieldslate:picked", { detail: { kind } }));
  if (offerUndo) {
    offerUndo("Your earlier entries are put away.");
    const isOver = new AbortController(); // what is picked next is not taken back by this
    form.addEventListener("fieldslate:undone", () => keepPicked(before), { once: true, signal: isOver.signal });
    document.addEventListener("fieldslate:picked", () => isOver.abort(), { once: true });
  }
  await written;
}

const fieldsOf = (form, names) => names.map((name) => form.elements.namedItem(name)).filter((field) => field && !("fixed" in field.dataset));

/** A label of one's own can be picked again; what was read, or typed by hand, cannot. */
function losesWhatWasTyped(kind, fields) {
  const [first] = fields;
  if (!first?.form.querySelector("#undo")) return false;
  const startsAs = builtValues(first.form);
  return fields.some((field) => field.value !== startsAs[field.name] && ("measured" in field.dataset || !pickedThing(kind)));
}

function fillIn(fields, texts) {
  if (!fields.length) return;
  const startsAs = builtValues(fields[0].form);
  for (const field of fields) setEntry(field, texts[field.name] || startsAs[field.name]);
  tellEntered(fields[0].form);
}

/** Tells the form that its entries are others now, as typing does. */
export function tellEntered(form) {
  form.querySelector("[name]:not([data-measured])").dispatchEvent(new Event("input", { bubbles: true }));
}

/** Returns the thing of a kind that is picked, if the entries are still those of its label; null else. */
export function pickedThing(kind) {
  const { [kind]: id, [outputName(kind)]: output } = picked();
  const thing = id && thingOf(thingKind(kind), id);
  return thing && isLabelIn(thing, kind, output) ? thing : null;
}

/** Returns the ids of the chargers and supplies that are picked, by kind, each charger with its output. */
export function pickedHere() {
  const kinds = ["charger", "supply", ...SECONDS].filter(pickedThing);
  const outputs = kinds.filter((kind) => thingKind(kind) === "charger").map(outputName);
  const all = picked();
  return Object.fromEntries([...kinds, ...outputs].map((name) => [name, all[name] ?? "1"]));
}

/** Says whether the entries are those of a thing's label; a form that asks none of it, since it asks packs in rows, says nothing of the thing. */
export function isLabelIn(thing, kind = "pack", output = "1") {
  const form = formHere();
  const mine = keptEntries();
  const textIn = (name) => {
    const field = form?.elements.namedItem(name);
    return field ? entryText(field) : (mine.get(name)?.[0] ?? "");
  };
  const isAsked = (name) => !form || form.elements.namedItem(name);
  const label = Object.entries(textsOf(kind, thing, output)).filter(([name, text]) => text && isAsked(name));
  return label.length > 0 && label.every(([name, text]) => textIn(name) === text);
}

/** An output that was picked on the page of one pack stands for its whole charger where both outputs are asked. */
export function pickWholeCharger(form) {
  const { charger: id, output = "1" } = picked();
  const charger = id && asksBothOutputs(form) && thingOf("charger", id);
  if (charger && output !== "1" && isLabelIn(charger, "charger", output)) pick("charger", id);
}

/** Names the output of the charger that is picked, where it has several. */
export const outputWords = ({ entries }, kind = "charger") => (outputNumbers(entries).length > 1 ? `, output ${picked()[outputName(kind)]}` : "");

/** Returns why the pack that is picked gets no number on this page, in a sentence; null where it may. */
export function refusedHere(form) {
  if (!form.elements.namedItem("resting_v") || "judges" in (document.getElementById("picked")?.dataset ?? {})) return null;
  const pack = pickedThing("pack");
  return pack?.refused ? refusalOf(pack) : null;
}

/** Notes what an answer says of a pack for good: that it is to be taken out of use, or that a check of every cell has passed it. `packIn`
 *  returns the pack of one's own in a row of the form, since what is found of a row is true of no other pack. */
export function judge({ taken_out: sentence, rows_taken_out: ofRows, passed }, packIn) {
  clearTimeout(sure);
  const pack = pickedThing("pack");
  if (passed && pack?.refused) note("pack", pack.id, { refused: null });
  const said = [[pack, sentence], ...Object.entries(ofRows).map(([number, words]) => [packIn(number), words])];
  found = said.filter(([one, words]) => one && !one.refused && words).map(([{ id }, words]) => ({ id, sentence: words }));
  if (found.length) sure = setTimeout(settleFound, SURE_AFTER_MS);
}

/** What was typed was meant: the page is left, or nothing was typed for a while. */
export function settleFound() {
  clearTimeout(sure);
  for (const { id, sentence } of found) noteNow("pack", id, { refused: [sentence, Date.now()] });
  found = [];
}

/** What was found does not hold once something else is typed; the answer to that says anew. */
export function dropFound() {
  clearTimeout(sure);
  found = [];
}
