// A pack as a link: its name, what is on its label, and what was measured with its day. How it was left stays on its phone.

import { dayOf } from "./log_kept.js";
import { fits } from "./json_schema.js";
import { FACTS } from "./own_words.js";
import { plain, shortened } from "./plain_text.js";
import { hasBeen } from "./shapes.js";

const PAGE = "save-and-share.html";
const NAME = "own_name";
const DAY_OF = "_day"; // after the name of what was measured
const A_DAY = /^\d{4}-\d\d-\d\d$/;

/** Returns the address under which another phone is shown the pack. */
export function linkOf({ name, entries, dates }) {
  const address = new URL(PAGE, document.baseURI);
  const isSure = (entry) => entries[entry] && (!FACTS.pack.dated.includes(entry) || dates[entry]);
  const label = FACTS.pack.entries.filter(isSure).map((entry) => [entry, entries[entry]]);
  const days = FACTS.pack.dated.filter(isSure).map((entry) => [`${entry}${DAY_OF}`, dayOf(dates[entry])]);
  address.search = new URLSearchParams([[NAME, name], ...label, ...days]);
  return address.href;
}

/** Returns the pack of a query, with a new id, or null: what does not fit the schema is left out, and so is what was measured on no day. */
export function packIn(query, schema, id) {
  const given = new URLSearchParams(query);
  const name = shortened(plain(given.get(NAME) ?? ""), schema.$defs.Pack.properties.name.maxLength);
  if (!name) return null;
  const { properties } = schema.$defs.PackEntries;
  const momentOf = (entry) => {
    const day = given.get(`${entry}${DAY_OF}`) ?? "";
    return A_DAY.test(day) ? new Date(`${day}T12:00`).getTime() : NaN;
  };
  const says = (entry) => plain(given.get(entry) ?? "");
  const isKnown = (entry) => says(entry) && fits(says(entry), properties[entry], schema);
  const isSure = (entry) => !FACTS.pack.dated.includes(entry) || hasBeen(momentOf(entry), Date.now());
  const entries = Object.keys(properties).filter((entry) => isKnown(entry) && isSure(entry)).map((entry) => [entry, says(entry)]);
  const dates = FACTS.pack.dated.filter((entry) => isKnown(entry) && isSure(entry)).map((entry) => [entry, momentOf(entry)]);
  return { id, name, entries: Object.fromEntries(entries), dates: Object.fromEntries(dates) };
}

/** Returns the query that brings a pack's label to a calculator, as a link's. */
export const labelQuery = ({ entries }) =>
  `?${new URLSearchParams(FACTS.pack.names.filter((name) => entries[name] && !FACTS.pack.dated.includes(name)).map((name) => [name, entries[name]]))}`;
