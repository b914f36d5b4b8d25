// The log of each pack, kept on this phone: one record for each pack, so that a damaged one loses one pack's lines alone. A line is
// {id, entries, note}: its entries are text as it was typed, by the names that calc asks of a line. What was measured last goes to the pack
// itself, with its day, and from there to every calculator.

import * as kept from "./kept.js";
import { inTurn, LISTS, LISTS_IN_TURN, note, tellOfChange as tellOfThings, thingOf, things } from "./own_kept.js";
import { FACTS } from "./own_words.js";
import { hasBeen, isADay, isGroup, isGroupOf, isListOf, isText } from "./shapes.js";

const LOGS = "logs"; // all of them together, which whoever writes to one alone shares with the others
const SHARED = { mode: "shared" };

const records = new Map();

/** Returns the record of a pack's log. */
export function recordOf(id) {
  if (!records.has(id)) {
    const record = { name: `log ${id}`, version: 1, called: `the log of ${thingOf("pack", id)?.name ?? "a pack"}`, fits: (value) => isListOf(value, isLine) };
    records.set(id, record);
    kept.hearOf(record, tellOfChange);
  }
  return records.get(id);
}

const isLine = (value) => isGroup(value) && isText(value.id) && isText(value.note) && isGroupOf(value.entries, isText) && isADay(value.entries.day);

const tellOfChange = () => document.dispatchEvent(new CustomEvent("fieldslate:log"));

/** Looks a log up; from then on `linesOf` has it. What a former version kept of ended cards beside the pack becomes lines, once. */
export async function openLog(id) {
  await kept.lookUp(recordOf(id));
  const before = thingOf("pack", id)?.records;
  if (!before?.length) return;
  const lines = before.map(({ ended, lines: words }) => ({ id: `ended ${ended}`, entries: { day: dayOf(ended), kind: "other" }, note: words.join("; ") }));
  const isKept = await change(id, (all) => [...all, ...lines.filter((line) => all.every((one) => one.id !== line.id))]);
  if (isKept) await note("pack", id, { records: [] });
}

/** The lines of a log in the order of their days; those of one day in the order in which they were kept. */
export const linesOf = (id) => [...(kept.read(recordOf(id)) ?? [])].sort((one, other) => (one.entries.day < other.entries.day ? -1 : one.entries.day > other.entries.day ? 1 : 0));

export const lineOf = (id, line) => linesOf(id).find((one) => one.id === line) ?? null;

/** Keeps a line in the place of the one with its id, or as the last, and says whether it is on the disk. */
export const keepLine = (id, line) =>
  change(id, (all) => (all.some((one) => one.id === line.id) ? all.map((one) => (one.id === line.id ? line : one)) : [...all, line]));

export const takeBack = (id, line) => change(id, (all) => all.filter((one) => one.id !== line));

/** Returns a day as lines have it. */
export function dayOf(moment) {
  const at = new Date(moment);
  return [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((part) => `${part}`.padStart(2, "0")).join("-");
}

/** Another tab may write to the same log: one after the other, and each to what the other has left. */
function change(id, act) {
  const record = recordOf(id);
  const now = async () => {
    await kept.refresh(record);
    const isKept = await kept.keep(record, act(kept.read(record) ?? []));
    await measuredLast(id);
    tellOfChange();
    return isKept;
  };
  return inTurn(LOGS, SHARED, () => inTurn(record.name, {}, now));
}

/** Does something while no other tab writes to any log, nor to a list of things. */
export const holdingAll = (act) => inTurn(LOGS, {}, () => inTurn(LISTS_IN_TURN, {}, act));

/** Changes packs and their logs in one write, all of them or none. `act` makes of a pack and its lines what they become, as {pack, lines}; of
 *  one that was removed, which is {id} then, the lines alone are kept: it can be put back. What `beside` keeps goes into the same write. */
export async function changeWithLogs(ids, act, beside) {
  await Promise.all(ids.map(openLog));
  await holdingAll(async () => {
    await Promise.all([LISTS.pack, ...ids.map(recordOf)].map(kept.refresh));
    const become = new Map(ids.map((id) => [id, act(thingOf("pack", id) ?? { id }, kept.read(recordOf(id)) ?? [])]));
    const packs = things("pack").map((pack) => become.get(pack.id)?.pack ?? pack);
    return Promise.all([beside(), ...(become.size ? [kept.keep(LISTS.pack, packs)] : []), ...Array.from(become, ([id, { lines }]) => kept.keep(recordOf(id), lines))]);
  });
  for (const id of ids) await measuredLast(id);
  tellOfThings();
  tellOfChange();
}

const noonOf = ({ entries }) => new Date(`${entries.day}T12:00`).getTime();

/** The newest line with a measurement is the pack's own, unless something newer was entered by hand; one that is gone takes its own along. A day
 *  that is still to come was dated by a wrong clock, or mistyped: such a line counts only where there is no other. */
async function measuredLast(id) {
  const pack = thingOf("pack", id);
  if (!pack) return;
  const [entries, dates] = [{ ...pack.entries }, { ...pack.dates }];
  const fromLog = [];
  const isPast = (moment) => hasBeen(moment, Date.now());
  for (const name of FACTS.pack.dated) {
    const lines = linesOf(id).filter((one) => one.entries[name]);
    const line = lines.findLast((one) => isPast(noonOf(one))) ?? lines.at(-1);
    const moment = line && noonOf(line);
    const isOurs = (pack.fromLog ?? []).includes(name);
    const isNewer = () => dayOf(dates[name]) <= line.entries.day && (isPast(moment) || !isPast(dates[name]));
    if (line && (isOurs || !dates[name] || isNewer())) {
      entries[name] = line.entries[name];
      dates[name] = moment;
      fromLog.push(name);
    } else if (!line && isOurs) {
      delete entries[name];
      delete dates[name];
    }
  }
  const now = { entries, dates, fromLog };
  if (JSON.stringify(now) !== JSON.stringify({ entries: pack.entries, dates: pack.dates, fromLog: pack.fromLog ?? [] })) await note("pack", id, now);
}
