// What is said of the pilot's own things in a line: what they are, and what a pack needs next. Which days count, calc says; the build puts
// it into the page.

import { clockOf, dayOf } from "./page_parts.js";
import { A_NUMBER_ALONE } from "./units.js";

const A_DAY_MS = 86_400_000;

/* global OWN_FACTS -- what the build knows from calc: names by kind, units, short names, days */
export const FACTS = OWN_FACTS;

/** Says what a thing is: "LiPo 4S 5000 mAh". */
export function lineOf(kind, { entries }) {
  const { short, signs, supplies } = FACTS;
  const amount = (name) => {
    const text = entries[name] ?? "";
    return A_NUMBER_ALONE.test(text) ? `${text}\u00a0${signs[name]}` : text;
  };
  const lines = {
    pack: () => [short[entries.chemistry], entries.cells && `${entries.cells}S`, amount("capacity_mah")],
    charger: () => [amount("outputs_1_charger_current_a"), amount("outputs_1_charger_power_w"), outputsOf(entries)],
    supply: () => [supplies[entries.supply_kind], amount("battery_ah"), amount("supply_v"), amount("supply_current_a")],
  };
  return lines[kind]().filter(Boolean).join(" ");
}

/** Returns what is on the label of a pack, by name: nothing that is measured now and then. */
export const labelOf = ({ entries }) => Object.fromEntries(Object.entries(entries).filter(([name, text]) => text !== "" && !FACTS.pack.dated.includes(name)));

/** What was measured of a pack that is among `names`, each with its day. */
export const measuredOf = ({ entries, dates }, names = FACTS.pack.dated) =>
  names.filter((name) => entries[name] && dates[name]).map((name) => `${FACTS.labels[name]}: ${entries[name]}\u00a0${FACTS.signs[name]}, ${dayOf(dates[name])}`);

/** The numbers of the outputs of a charger, as text. */
export const outputNumbers = (entries) => ["1", "2", "3", "4"].filter((number) => entries[`outputs_${number}_charger_current_a`]);

function outputsOf(entries) {
  const { length } = outputNumbers(entries);
  return length > 1 ? `${length} outputs` : "";
}

/** Says how a pack was left, and what it needs next. It is a note, and never a reading. */
export function stateOf({ state, refused }) {
  if (refused) return "out of use: check it anew";
  if (!state) return "";
  const [word, moment] = state;
  const days = daysSince(moment);
  if (["used", "filled"].includes(word)) return `${word === "used" ? "used" : "filled up"} ${days === 0 ? "today" : `on ${dayOf(moment)}`}`;
  if (word === "stored") return `at storage since ${days === 0 ? "today" : dayOf(moment)}`;
  if (days < FACTS.due.store) return `${word} ${days === 0 ? `today ${clockOf(moment)}` : "yesterday"}`;
  return `${word === "charged" ? "full for" : "flown"} ${days} days${word === "charged" ? "" : " ago"}: store it`;
}

export const daysSince = (moment) => Math.max(0, Math.round((midnight(Date.now()) - midnight(moment)) / A_DAY_MS));

/** Says whether a pack is to be checked or stored. */
export const needsSomething = ({ state, refused }) => Boolean(refused) || (Boolean(state) && state[0] !== "stored" && daysSince(state[1]) >= FACTS.due.store);

const midnight = (moment) => new Date(moment).setHours(0, 0, 0, 0);

/** What stands in the way of any number for this pack, in a sentence. */
export const refusalOf = ({ name, refused: [sentence, moment] }) =>
  `${name} was taken out of use on ${dayOf(moment)}. ${sentence} It gets no numbers until a cell check has passed it.`;
