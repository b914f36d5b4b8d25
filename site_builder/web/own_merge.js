// What the things of a file would change among those that are here, without changing anything. Nothing that is here is ever lost: what is
// new is added, what is newer takes the older one's place where its day says so, and where nobody can know which of two holds, both are shown.

import { crc32 } from "./checksum.js";
import { isAlike, ordered } from "./json_text.js";
import { shortened } from "./plain_text.js";
import { hasBeen } from "./shapes.js";

export const [NEW, CHANGED, SAME, TWO] = ["new", "changed", "same", "two"];

const CLOCKS_DIFFER_MS = 600_000;
const OF_FILE = ", from the file";

/** Returns a change for each thing of a file: {kind, id, name, how, mine, theirs, merged}. `here` has a list of each kind, packs with their
 *  logs; `datedOf` has the names of what was measured, by kind, `now` is the moment after which nothing can have been noted, and a name has no more
 *  than `mostInName` characters. */
export function changesOf(records, here, { datedOf, now, mostInName }) {
  return Object.entries(records).flatMap(([kind, list]) => {
    const [dated, known] = [datedOf[kind], new Map(here[kind].map((one) => [one.id, one]))];
    return list.map((found) => {
      const theirs = withoutFuture(found, dated, now);
      const mine = known.get(theirs.id);
      const change = { kind, id: theirs.id, name: theirs.name, mine, theirs, dated, mostInName };
      if (!mine) return { ...change, how: NEW, merged: theirs };
      const merged = mergedOf(mine, theirs, dated);
      const isTaken = known.has(twinId(theirs));
      if (isTaken || !differs(mine, theirs, dated)) return { ...change, merged, how: isAlike(merged, mine) ? SAME : CHANGED };
      return { ...change, merged, how: TWO };
    });
  });
}

/** Returns the things that a change leaves here: `choice` is "mine", "theirs" or "both", where there are two. */
export function resultOf({ how, mine, theirs, merged, dated, mostInName }, choice = "mine") {
  if (how === SAME) return [];
  if (how !== TWO || choice === "mine") return [merged];
  if (choice === "theirs") return [withTheirs(merged, mine, theirs, dated)];
  const twin = { ...theirs, id: twinId(theirs), name: theirs.name === mine.name ? `${shortened(theirs.name, mostInName - OF_FILE.length)}${OF_FILE}` : theirs.name };
  return [merged.refused ? { ...mine, refused: merged.refused } : mine, { ...twin, ...(merged.refused && { refused: merged.refused }) }];
}

/** It is the same for the same content: a file that is read twice brings its second of two once. */
const twinId = (theirs) => `${theirs.id} ${crc32(ordered(theirs))}`.slice(-100);

/** A moment that is still to come was noted by a wrong clock: the label comes without it then. A pack that was out of use stays so. */
function withoutFuture({ state, checked, dates = {}, ...thing }, dated, now) {
  const isKnown = (name) => !dated.includes(name) || hasBeen(dates[name], now);
  const only = (group) => Object.fromEntries(Object.entries(group).filter(([name]) => isKnown(name) && thing.entries[name]));
  const isPast = (moment) => moment <= now + CLOCKS_DIFFER_MS;
  return { ...thing, entries: only(thing.entries), dates: only(dates), ...(state && isPast(state[1]) && { state }), ...(isPast(checked) && { checked }) };
}

const labelOf = ({ entries }, dated) => Object.fromEntries(Object.entries(entries).filter(([name, text]) => text !== "" && !dated.includes(name)));
const linesBoth = (mine, theirs) => (theirs.log ?? []).flatMap((line) => (mine.log ?? []).filter(({ id }) => id === line.id).map((own) => [own, line]));
const measuredAt = ({ dates, entries }, name) => (entries[name] ? (dates[name] ?? 0) : -1);

/** Says whether the two say different things of which neither is the newer. */
function differs(mine, theirs, dated) {
  return (
    mine.name !== theirs.name ||
    !isAlike(labelOf(mine, dated), labelOf(theirs, dated)) ||
    dated.some((name) => mine.entries[name] && theirs.entries[name] && mine.entries[name] !== theirs.entries[name] && measuredAt(mine, name) === measuredAt(theirs, name)) ||
    linesBoth(mine, theirs).some(([own, line]) => !isAlike(sayingOf(own), sayingOf(line)))
  );
}

const sayingOf = ({ entries, note }) => ({ note, entries: Object.fromEntries(Object.entries(entries).filter(([, text]) => text !== "")) });

/** Mine, with what is new or newer in theirs. Once either is out of use, both are. */
function mergedOf(mine, theirs, dated) {
  const newer = dated.filter((name) => measuredAt(theirs, name) > measuredAt(mine, name));
  const refused = mine.refused ?? theirs.refused;
  const state = theirs.state && theirs.state[1] > (mine.state?.[1] ?? -1) ? theirs.state : mine.state;
  const checked = Math.max(mine.checked ?? -1, theirs.checked ?? -1);
  const isHere = (line) => mine.log.some(({ id }) => id === line.id);
  return {
    ...withMeasured(mine, theirs, newer),
    ...(state && { state }),
    ...(refused && { refused }),
    ...(checked >= 0 && { checked }),
    ...(mine.log && { log: [...mine.log, ...theirs.log.filter((line) => !isHere(line))] }),
  };
}

/** The same with name, label and lines as the file has them. Lines that stand here alone stay, and so does what was measured later. */
function withTheirs(merged, mine, theirs, dated) {
  const lineOf = (line) => theirs.log.find(({ id }) => id === line.id) ?? line;
  const measured = dated.filter((name) => measuredAt(theirs, name) >= 0 && measuredAt(theirs, name) >= measuredAt(mine, name));
  const mineLater = Object.fromEntries(dated.filter((name) => merged.entries[name]).map((name) => [name, merged.entries[name]]));
  const both = withMeasured({ ...merged, entries: { ...labelOf(theirs, dated), ...mineLater } }, theirs, measured);
  return { ...both, name: theirs.name, ...(merged.log && { log: merged.log.map(lineOf) }) };
}

/** A thing with what was measured by these names as the other has it, each with its day. */
function withMeasured(thing, other, names) {
  const take = (part) => Object.fromEntries(names.filter((name) => other[part][name] !== undefined).map((name) => [name, other[part][name]]));
  const fromLog = [...(thing.fromLog ?? []).filter((name) => !names.includes(name)), ...(other.fromLog ?? []).filter((name) => names.includes(name))];
  return { ...thing, entries: { ...thing.entries, ...take("entries") }, dates: { ...thing.dates, ...take("dates") }, ...((thing.fromLog || fromLog.length) && { fromLog }) };
}
