// What a step asks for the line that the end of its card leaves in the log of each pack. It is kept as it is typed, and all of it may be
// left out. What it is worth, Python says: what cannot be is said at its place, and if it stays so, it goes into the note of the line.

import { cardOf, keepCards, ownPacksOf } from "./card_kept.js";
import { engineRuns, engineUp } from "./engine_gate.js";
import { markProblems } from "./entry_fields.js";
import * as engine from "./live_engine.js";
import { dayOf } from "./log_kept.js";
import { inWords } from "./log_words.js";
import { thingOf } from "./own_kept.js";
import { FACTS } from "./own_words.js";
import { make, write } from "./page_parts.js";
import { layBoxes, markBoxes, putAsRead } from "./reading_boxes.js";
import { listenToBoxes } from "./reading_keys.js";
import { afterTap } from "./taps.js";
import { parsed } from "./trusted.js";
import { entryText, offerUnits, setEntry } from "./units.js";

const READS_LINES = "ageing"; // the calculator to which a log is given
const ROW = "lines_1_";
const ITS_TITLE = /^Line 1: (.)/; // there is one line here
const LATE_MS = 3_000; // no card waits longer

const isKnown = (name) => name in FACTS.log.labels; // a card may be of another version
const told = new Set(); // what was said to be wrong, each with its text
let leavingPage = null;

export const begin = (leaving) => (leavingPage = leaving);

/** Returns the pilot's own packs of a card, each with its id and what was read of it before: also one that was removed, which can be put back. */
export const packsOf = (card) => (ownPacksOf(card) ?? []).filter(({ id }) => id);
/** Returns those of them that are here. */
export const packsHere = (card) => packsOf(card).map(({ id }) => thingOf("pack", id)).filter(Boolean);

export const namesIn = ({ dataset }) => (dataset.logsAs ?? "").split(" ").filter(isKnown);

/** Returns what is typed on a card for the log of a pack, as text by name. */
export const typedOf = (card, pack) => Object.fromEntries(Object.entries(card.logged?.[pack] ?? {}).filter(([name, text]) => text !== "" && isKnown(name)));

/** Returns what is typed on a card, a line of words for each, and for each pack where it has several. */
export function typedInWords(card, isMeant = () => true) {
  return packsOf(card).flatMap(({ id }) => {
    const whose = card.isOfSeveral ? `${thingOf("pack", id)?.name ?? "A pack that was removed"}: ` : "";
    return Object.entries(typedOf(card, id)).filter(([name]) => isMeant(name)).map(([name, text]) => `${whose}${inWords(name, text)}`);
  });
}

/** Returns what of it cannot be, by the id of the pack and the name: a sentence for each. Where no calculator answers, that is not known. */
export async function wrongIn(card) {
  const found = await Promise.all(packsHere(card).map(async (pack) => [pack.id, (await read(pack, typedOf(card, pack.id))).problems]));
  return Object.fromEntries(found);
}

/** Says whether all of it was told already. */
export const isTold = (card, wrong) => Object.entries(wrong).every(([pack, problems]) => Object.keys(problems).every((name) => told.has(signOf(card, pack, name))));

const signOf = (card, pack, name) => `${card.id} ${pack} ${name} ${card.logged[pack][name]}`;

/** Makes the boxes of what `namesOf` a pack returns, in a form for each pack; `key` tells them from others on the page. `holds` says whether
 *  nothing in them is wrong, or all of it was told before with these words. */
export function makeLine(id, key, namesOf) {
  const packs = packsHere(cardOf(id)).filter((pack) => namesOf(pack).length);
  const forms = packs.map((pack, place) => makeForm(id, pack, namesOf(pack), `${key}-${place}`));
  return { parts: forms.map(({ form }) => form), holds };

  async function holds(words) {
    const areNew = await Promise.all(forms.map((one) => one.tell(words)));
    forms[areNew.indexOf(true)]?.form.querySelector("[aria-invalid]")?.focus();
    return !areNew.includes(true);
  }
}

function makeForm(id, pack, names, suffix) {
  const all = document.getElementById("line-entries").content.cloneNode(true);
  const entries = names.map((name) => all.querySelector(`[name="${name}"]`)?.closest(".entry")).filter(Boolean);
  const cells = make("input", { type: "hidden", name: "cells", value: pack.entries.cells ?? "" });
  const said = make("p", { class: "line-said", role: "status" });
  const form = make("form", { class: "card-log", autocomplete: "off" }, make("fieldset", { class: "group" }, make("legend", {}, `Into the log of ${pack.name}`), cells, ...entries), said);
  for (const one of form.querySelectorAll("[id], [for], [aria-describedby]")) {
    for (const name of ["id", "for", "aria-describedby"]) if (one.hasAttribute(name)) one.setAttribute(name, `${one.getAttribute(name)}-${suffix}`);
  }
  const fields = new Map(entries.map((entry) => entry.querySelector("[name]")).map((field) => [field.name, field]));
  for (const [name, field] of fields) {
    field.name = `${name}-${suffix}`; // two packs are asked the same
    setEntry(field, cardOf(id).logged?.[pack.id]?.[name] ?? "");
  }
  offerUnits(form);
  layBoxes(form);
  listenToBoxes(form);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("focusin", wake);
  form.addEventListener("input", keep);
  form.addEventListener("focusout", ({ target, relatedTarget }) => target.closest(".entry")?.contains(relatedTarget) || look());
  if (!engineRuns()) engineUp.then(() => form.isConnected && look()); // what was typed before it came
  return { form, tell };

  function keep() {
    const card = cardOf(id);
    const typed = Array.from(fields, ([name, field]) => [name, entryText(field)]);
    card.logged = { ...card.logged, [pack.id]: { ...card.logged?.[pack.id], ...Object.fromEntries(typed) } };
    write(said, "");
    keepCards();
  }

  /** What is left may be left by a tap on the tick below, which a sentence would move away. What is being typed is not looked at. */
  async function look() {
    const found = await readHere((name) => !fields.get(name).closest(".entry").contains(document.activeElement));
    afterTap(() => mark(found));
  }

  async function readHere(isMeant = () => true) {
    const asked = Object.fromEntries(Object.entries(typedOf(cardOf(id) ?? {}, pack.id)).filter(([name]) => fields.has(name) && isMeant(name)));
    return { asked, ...(await read(pack, asked)) };
  }

  /** Marks what cannot be, and returns the names of it; what was typed on meanwhile is looked at the next time. */
  function mark({ asked, problems, readings }) {
    const isAsAsked = (name) => entryText(fields.get(name)) === asked[name];
    const ofField = (found) => Object.fromEntries(Object.entries(found).filter(([name]) => isAsAsked(name)).map(([name, text]) => [fields.get(name).name, text]));
    if (!form.isConnected || !cardOf(id)) return [];
    const [wrong, asRead] = [problems, readings].map(ofField);
    if (putAsRead(form, asRead)) keep();
    markProblems(form, wrong);
    markBoxes(form);
    return Object.keys(problems).filter((name) => fields.get(name).name in wrong);
  }

  /** Says what cannot be, and returns whether any of it was not said before. */
  async function tell(words) {
    const wrong = mark(await readHere());
    const signs = wrong.map((name) => signOf(cardOf(id), pack.id, name));
    const areNew = signs.some((sign) => !told.has(sign));
    for (const sign of signs) told.add(sign);
    if (areNew) write(said, words);
    return areNew;
  }
}

/** The calculator comes while one types: a page on which nothing is typed needs none. */
function wake() {
  if (!engine.engineState()) engine.open(document.body.dataset.engine, { news() {}, answered() {} }, leavingPage);
}

/** Returns what Python reads of what was typed for a pack's log, and a sentence for what it cannot, both by name. */
async function read(pack, typed) {
  const nothing = { problems: {}, readings: {} };
  if (!engineRuns() || !Object.keys(typed).length) return nothing;
  const { chemistry, cells, capacity_mah } = pack.entries;
  const line = { day: dayOf(Date.now()), kind: "charge", ...typed };
  const entries = { chemistry, cells, capacity_mah, ...Object.fromEntries(Object.entries(line).map(([name, text]) => [`${ROW}${name}`, text])) };
  const late = new Promise((resolve) => setTimeout(resolve, LATE_MS, null));
  const answer = await Promise.race([engine.askBeside(READS_LINES, entries).catch(() => null), late]);
  if (!answer) return nothing;
  const links = [...parsed(answer.html).querySelectorAll(`.refusal a[href^="#entry-${ROW}"]`)];
  const ownName = (name) => name.slice(ROW.length);
  const problems = links.map((link) => [ownName(link.hash.slice("#entry-".length)), link.textContent.replace(ITS_TITLE, (_, first) => first.toUpperCase())]);
  const readings = Object.entries(answer.readings).map(([name, text]) => [ownName(name), text]);
  return { problems: Object.fromEntries(problems.filter(([name]) => name in typed)), readings: Object.fromEntries(readings) };
}
