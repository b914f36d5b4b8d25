// The ways from a plan that is followed: to the page that has the last word on a line, with its packs picked and nothing read of them, and to
// a new plan, made from what has become of the day. What is on is never moved.

import { keptEntries, notSpent, putBackEntries, putEntries } from "./kept_entries.js";
import { keepPicked, picked, thingOf } from "./own_kept.js";
import { textsOf } from "./own_picked.js";
import { outputName, SECONDS, thingKind } from "./own_second.js";
import { FACTS } from "./own_words.js";
import { clockOf } from "./page_parts.js";
import { followed, keepPlan, ON, WAITING } from "./plan_kept.js";
import { goTo } from "./travel.js";

const OUTPUTS = Object.entries(FACTS.secondOutput); // [name of the second output's, name of the first's]
const CHARGERS = Object.entries(FACTS.secondCharger);
const SUPPLIES = Object.entries(FACTS.secondSupply);
const IN_ROW = /^packs_(\d+)_(.+)$/;

/** Opens the page that has the last word on a line: the label of each pack is there, and nothing that was read of it. */
export async function openPageOf(at) {
  const plan = followed();
  const turn = plan.turns[at];
  const labels = turn.packs.map((number, place) => labelOf(plan, number, turn.ids[place]));
  const isAlone = turn.packs.length === 1;
  const texts = isAlone ? labels[0] : Object.fromEntries(labels.flatMap((label, place) => Object.entries(label).map(([name, text]) => [`packs_${place + 1}_${name}`, text])));
  const gone = isAlone ? FACTS.pack.readings : [...keptEntries().keys()].filter((name) => IN_ROW.test(name) || name === "alike_packs");
  const swapped = turn.output === "2" ? secondOutputFirst(plan) : {};
  for (const [name, [text]] of Object.entries(swapped)) texts[name] = text;
  const moments = new Map(Object.entries(swapped).map(([name, [, moment]]) => [name, moment]));
  const { pack: _, ...others } = picked();
  const ids = isAlone ? turn.ids[0] && { pack: turn.ids[0] } : { packs: turn.ids.join(" ") };
  const pickedThen = { ...((turn.output === "2" && secondPickedFirst(others)) || { ...others, output: turn.output }), ...ids };
  await Promise.all([putEntries(texts, gone.filter((name) => !(name in texts)), moments), keepPicked(pickedThen), keepPlan({ ...plan, asked: { turn: at, at: Date.now() } })]);
  goTo(`${turn.page}.html`);
}

/** The entries of charger and supply, each with its moment, with those of the second output in the place of the first, which the page of one
 *  charge asks; nothing where they are alike. */
function secondOutputFirst(plan) {
  const entries = entriesNow(plan);
  const entryOf = (name) => entries[name] ?? ["", Date.now()];
  const textOf = (name) => entryOf(name)[0];
  const isAnother = textOf("charger_outputs") === "2" && textOf("second_charger") === "another";
  const pairs = [...OUTPUTS, ...(isAnother ? CHARGERS : [])].filter((names) => names.some(textOf));
  const asFirst = ([second, first]) => [second, first, textOf(second) === "" && !FACTS.unlessKnown.includes(first)];
  const supplies = isAnother && textOf("second_supply") === "own" ? SUPPLIES.map(([second, first]) => [second, first, false]) : [];
  const swapped = [...pairs.map(asFirst), ...supplies];
  if (swapped.every(([second, first, isAlike]) => isAlike || textOf(second) === textOf(first))) return {};
  return Object.fromEntries(swapped.flatMap(([second, first, isAlike]) => [[first, entryOf(isAlike ? first : second)], [second, entryOf(first)]]));
}

/** What is picked, with the second charger and its supply in the place of the first, or the other way round. */
function secondPickedFirst({ charger, output = "1", supply, second_charger: second, second_output: its = "1", second_supply: from, ...others }) {
  if (!second) return null;
  return { ...others, charger: second, output: its, second_charger: charger ?? "", second_output: output, supply: from || supply || "", second_supply: from ? supply ?? "" : "" };
}

/** Takes back what "Put on" has entered for a line on the second output: the plan asks for both, the first one first. */
export function takeBackOutput() {
  const plan = followed();
  const mine = keptEntries();
  const asSecond = Object.entries(plan ? secondOutputFirst(plan) : {});
  if (!asSecond.length || asSecond.some(([name, [text]]) => (mine.get(name)?.[0] ?? "") !== text)) return;
  const { output, ...others } = picked();
  const back = secondPickedFirst(picked());
  const entries = entriesNow(plan);
  putBackEntries(Object.fromEntries(asSecond.map(([name]) => [name, entries[name] ?? ["", Date.now()]])));
  keepPicked(back ?? (output ? { ...others, output: "1" } : others));
}

/** One's own chargers, supplies and packs in a plan as they are kept now, each with what it puts into the entries, by name. */
function ownNow({ own = {}, turns }) {
  const things = ["charger", "supply", ...SECONDS].map((kind) => [kind, thingOf(thingKind(kind), own[kind]), ""]);
  const packs = turns.flatMap((turn) => turn.packs.map((number, place) => ["pack", thingOf("pack", turn.ids[place]), `packs_${number}_`]));
  const known = [...things, ...packs].filter(([, thing]) => thing);
  return known.map(([kind, thing, row]) => ({ thing, texts: Object.entries(textsOf(kind, thing, own[outputName(kind)])).map(([name, text]) => [`${row}${name}`, text]) }));
}

/** The entries that a plan was made of, with one's own things as they are kept now: each may have been corrected since. */
function entriesNow(plan) {
  const { entries } = plan;
  const corrected = ownNow(plan).flatMap(({ texts }) => texts).filter(([name, text]) => text && text !== entries[name]?.[0]);
  return { ...entries, ...Object.fromEntries(corrected.map(([name, text]) => [name, [text, Date.now()]])) };
}

/** Returns the names of one's own things of which something was corrected that the plan was made of. What its form starts with and nobody has
 *  touched may not be among the entries. */
export function correctedIn(plan, startsAs) {
  const isAnother = ([name, text]) => text && name in startsAs && text !== (plan.entries[name]?.[0] ?? startsAs[name]);
  return [...new Set(ownNow(plan).filter(({ texts }) => texts.some(isAnother)).map(({ thing }) => thing.name))];
}

/** What is on a pack's label: of one's own pack, or as it was entered for the plan. */
function labelOf({ entries }, number, id) {
  const thing = id && thingOf("pack", id);
  if (thing) return textsOf("pack", thing);
  return Object.fromEntries(FACTS.pack.names.map((name) => [name, entries[`packs_${number}_${name}`]?.[0] ?? ""]));
}

/** Fills the form with what has become of the day: what is on keeps its output and its hours, and what waits its reading, while that is true. */
export async function planAgain() {
  const plan = followed();
  const now = Date.now();
  const begun = { day_begun: "begun", start_clock: clockOf(now), ...(plan.until && { leave_clock: clockOf(plan.until) }) };
  const waiting = new Set(Object.keys(plan.entries).map((name) => name.match(IN_ROW)?.[1]).filter(Boolean));
  for (const { packs, output, state, ready, latest } of plan.turns) {
    if (state === WAITING) continue;
    for (const number of packs) {
      waiting.delete(number);
      begun[`packs_${number}_stands`] = state === ON ? `output_${output}` : output === "2" ? "done_2" : "done";
      begun[`packs_${number}_begun_v`] = (plan.entries[`packs_${number}_begun_v`] ?? plan.entries[`packs_${number}_resting_v`])?.[0] ?? "";
      begun[`packs_${number}_resting_v`] = "";
    }
    if (state !== ON) continue;
    begun[`output_${output}_ready_clock`] = clockOf(Math.max(ready, now));
    begun[`output_${output}_latest_clock`] = clockOf(Math.max(latest, now));
  }
  const back = { ...entriesNow(plan), ...Object.fromEntries(Object.entries(begun).map(([name, text]) => [name, [text, now]])) };
  notSpent([...waiting].map((number) => `packs_${number}_resting_v`)); // another pack's charge has changed nothing of those
  await Promise.all([putBackEntries(back), keepPicked({ ...picked(), packs: idsIn(plan) })]);
  await goTo(`${plan.page}.html`);
}

/** The ids of own packs by row, as they were ticked. */
function idsIn({ turns }) {
  const numbers = Array.from(document.querySelectorAll('#entries [name^="packs_"][name$="_cells"]'), ({ name }) => name.match(IN_ROW)[1]);
  const idOf = (number) => turns.map(({ packs, ids }) => ids[packs.indexOf(number)]).find(Boolean) ?? "";
  return numbers.map(idOf).join(" ");
}
