// The page's own address: what is entered stands in it, and readings with the moment of the oldest, since a link can be opened on
// another phone, or tomorrow. WebKit throws after 100 changes in 30 seconds, so there are never as many.

import { nameNow } from "./former_names.js";
import { isNumber } from "./shapes.js";

const AT_MOST = 80; // the rest is for going from page to page
const WITHIN_MS = 30_000;
const MEASURED_AT = "measured_at";
const A_MOMENT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/;

const written = []; // when
const newest = new Map(); // visit -> the query that its address has now, or will have once it can be written again
let carried = null; // the query that the links of this page carry on

/** Returns the entries in the address for which `names` has a place, {name: text}, and the moment of its readings or null. */
export function entriesInAddress(names) {
  const found = new URLSearchParams(newest.get(history.state?.visit) ?? location.search);
  const at = found.get(MEASURED_AT) ?? "";
  const moment = Date.parse(A_MOMENT.test(at) ? at : ""); // no number where there is no such day either
  return {
    entries: new Map([...found].map(([name, text]) => [nameNow(name), text]).filter(([name]) => Object.hasOwn(names, name))),
    moment: isNumber(moment) ? moment : null,
  };
}

/** Returns the query of entries whose oldest reading is of that moment. */
export function queryOf(entries, moment) {
  const query = new URLSearchParams(entries);
  if (moment !== null) query.set(MEASURED_AT, `${new Date(moment).toISOString().slice(0, 19)}Z`);
  return `?${query}`;
}

/** Has every link that carries the entries on carry them. */
export function carry(query, areMine) {
  carried = areMine ? query : null;
  noteAsNewest(query);
  for (const link of document.querySelectorAll("a[data-carry]")) link.search = query;
}

/** Says whether this phone has written the query of the address itself. */
export const isWrittenHere = () => [carried, history.state?.mine].includes(location.search);

/** Writes the query into the address if it is not there yet, and says whether it is now. */
export function writeQuery(query, areMine = false) {
  noteAsNewest(query);
  if (query === location.search && (history.state?.mine === query || !areMine)) return true;
  if (written.length < AT_MOST || performance.now() - written[0] >= WITHIN_MS) return write(query, areMine);
  if (areMine && location.search) write("", true); // a reload then takes what the phone has kept, and not what the address had before
  return false;
}

function write(query, areMine) {
  try {
    history.replaceState({ ...history.state, mine: areMine ? query : null }, "", query || location.pathname);
  } catch {
    return false;
  }
  written.push(performance.now());
  if (written.length > AT_MOST) written.shift();
  return true;
}

function noteAsNewest(query) {
  const visit = history.state?.visit;
  if (visit) newest.set(visit, query);
}
