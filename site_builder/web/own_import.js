// All that is kept of the pilot's own things, read together and changed together: an import is on the disk whole or not at all, and what it
// changed is kept with it, so that it can be taken back.

import { isAlike } from "./json_text.js";
import * as kept from "./kept.js";
import { holdingAll, openLog, recordOf } from "./log_kept.js";
import { LISTS, tellOfChange, things } from "./own_kept.js";
import { isGroup, isListOf, isNumber, isText } from "./shapes.js";

/** {moment, changes}: each change is {kind, id, before, after}, `before` null for what was new. A pack has its log with it. Of a new one `left` are the
 *  lines that it had here: the log of a pack that was removed stays behind. */
export const IMPORTED = {
  name: "last file in",
  version: 1,
  called: "what the last file in has changed",
  fits: (value) => isGroup(value) && isNumber(value.moment) && isListOf(value.changes, (one) => isGroup(one) && isText(one.kind) && isText(one.id)),
};

const withLog = (kind, thing) => (kind === "pack" ? { ...thing, log: kept.read(recordOf(thing.id)) ?? [] } : thing);

const AT_ONCE = 100; // so many records are read side by side: one after the other takes long, and all together would hold back what else is read

/** Returns a list of each kind, packs with their logs. */
export async function everything() {
  await forEachOf(things("pack").map(({ id }) => id), openLog);
  return allRead();
}

const allRead = () => Object.fromEntries(Object.keys(LISTS).map((kind) => [kind, things(kind).map((thing) => withLog(kind, thing))]));

async function forEachOf(all, act) {
  for (let from = 0; from < all.length; from += AT_ONCE) await Promise.all(all.slice(from, from + AT_ONCE).map(act));
}

const lookUp = (ids) => forEachOf(ids, (id) => kept.lookUp(recordOf(id)));
const byId = (list) => new Map(list.map((one) => [one.id, one]));
const byIdOfKinds = (all) => Object.fromEntries(Object.entries(all).map(([kind, list]) => [kind, byId(list)]));

/** Keeps what an import leaves, if what is here is still `before`. `results` are lists of things, by the change they come of. Returns "kept", "other", or "full". */
export async function takeIn(results, before) {
  const logs = results.flat().filter(({ kind }) => kind === "pack").map(({ thing }) => thing.id);
  await lookUp(logs);
  return holdingAll(async () => {
    if (!isAlike(await anew(logs), before)) return "other";
    const were = byIdOfKinds(before);
    const changes = results.flat().map(({ kind, thing }) => {
      const mine = were[kind].get(thing.id) ?? null;
      const left = kind === "pack" && !mine ? (kept.read(recordOf(thing.id)) ?? []) : [];
      return { kind, id: thing.id, before: mine, after: left.length ? withLines(thing, left) : thing, left };
    });
    const isKept = await write(changes.map(({ kind, id, after }) => ({ kind, id, thing: after })), { moment: Date.now(), changes });
    return isKept ? "kept" : "full";
  });
}

const withLines = (pack, left) => ({ ...pack, log: [...left, ...pack.log.filter(({ id }) => left.every((line) => line.id !== id))] });

/** Takes the last import back. What was changed since stays as it is; returns the names of such things, or null where nothing could be written. */
export async function takeBack() {
  const { changes } = kept.read(IMPORTED);
  const ids = changes.filter(({ kind }) => kind === "pack").map(({ id }) => id);
  await lookUp(ids);
  return holdingAll(async () => {
    const now = byIdOfKinds(await anew(ids));
    const found = changes.map((change) => ({ ...change, current: now[change.kind].get(change.id) }));
    const isAsLeft = ({ current, after }) => current && isAlike(current, after);
    const undone = found.filter(isAsLeft).map(({ kind, id, before, left }) => ({ kind, id, thing: before, left }));
    const isKept = await write(undone, { moment: Date.now(), changes: [] });
    return isKept ? found.filter((one) => one.current && !isAsLeft(one)).map(({ current }) => current.name) : null;
  });
}

/** Another tab may have changed something since it was read here. */
async function anew(logs) {
  for (const list of Object.values(LISTS)) await kept.refresh(list);
  await forEachOf([...new Set([...logs, ...things("pack").map((pack) => pack.id)])], (id) => kept.refresh(recordOf(id)));
  return allRead();
}

/** Puts each thing in the place of the one with its id, or as the last, or takes it out where it is null: all of it in one go. */
async function write(changes, imported) {
  const lists = Object.entries(LISTS).map(([kind, list]) => {
    const mine = byId(changes.filter((one) => one.kind === kind));
    const next = things(kind).flatMap((thing) => {
      const change = mine.get(thing.id);
      return change ? [change.thing].filter(Boolean) : [thing];
    });
    const here = byId(things(kind));
    const added = [...mine.values()].filter(({ id, thing }) => thing && !here.has(id)).map(({ thing }) => thing);
    return [list, [...next, ...added].map(({ log: _, ...thing }) => thing)];
  });
  const logs = changes.filter(({ kind }) => kind === "pack").map(({ id, thing, left = [] }) => [recordOf(id), thing?.log ?? left]);
  const areKept = await kept.keepAll([...lists, ...logs, [IMPORTED, imported]]);
  tellOfChange();
  document.dispatchEvent(new CustomEvent("fieldslate:log"));
  return areKept;
}
