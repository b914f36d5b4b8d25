// A line of a log in words. What each entry is called and its unit, calc says; the build puts it into the script.

import { FACTS } from "./own_words.js";
import { dayOf, listed } from "./page_parts.js";
import { A_NUMBER_ALONE } from "./units.js";

const CLEAR_BY_THEIR_UNIT = ["taken_min", "line_degc"];
const SAID = ["from_v", "to_v", "put_in_mah", "discharged_mah", "taken_min", "line_degc", "measured_capacity_mah", "cell_resistance_mohm", "each_mohm", "charges"];

/** What a line begins with: "3 May 2026 · Charge". */
export const headOf = ({ entries }) => `${dayOf(new Date(`${entries.day}T12:00`).getTime())} · ${FACTS.log.kinds[entries.kind] ?? ""}`;

/** What was read, in words, and the note. */
export function restOf({ entries, note }) {
  const said = SAID.filter((name) => entries[name]).map((name) => (CLEAR_BY_THEIR_UNIT.includes(name) ? amount(name, entries[name]) : `${FACTS.log.labels[name]} ${amount(name, entries[name])}`));
  return listed([...said, ...(note ? [note] : [])]);
}

/** An entry in words where it stands alone: "Charge put in: 1840 mAh". */
export const inWords = (name, text) => `${FACTS.log.labels[name]}: ${amount(name, text)}`;

const amount = (name, text) => (A_NUMBER_ALONE.test(text) ? `${text}\u00a0${FACTS.log.signs[name]}` : text);

export const countOf = (lines) => `${lines.length} ${lines.length === 1 ? "line" : "lines"}`;
