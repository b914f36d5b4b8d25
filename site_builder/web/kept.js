// Longer than most: looking up, checking and writing share one mirror, and what is written together must be on the disk together or not at all.
//
// The one place for what the pages keep on this phone: named records in IndexedDB, on the disk before anybody is told so. They are
// looked up once and read from a mirror, so only a page's start waits for the disk, and the engine starts meanwhile.
//
// A record is {version, checksum, value}: the value as JSON, and a checksum over name, version and that text. A kind of record says its
// `name`, `version`, what `fits` (or what `eachFits` of a list, which is kept thing by thing), and what it is `called` before the pilot. What does not hold is put aside under another name and told
// once. Where nothing can be kept the mirror goes on alone, and that is told too.
/* eslint-disable max-lines */

import { checksum } from "./checksum.js";
import { openedList, textOf } from "./kept_lists.js";
import { say, takeAway } from "./kept_notice.js";
import { inStore, isRefused, NAME, refuse } from "./kept_store.js";

const LIMIT_S = 10; // a store that hangs would hold the page back for ever
const ASIDE = "aside ";
const REFUSED = "This browser keeps nothing for Fieldslate: what you enter and tick is gone once this page is closed.";
const NOT_WRITTEN = "Your last change could not be kept on this phone, which may be full. Make room, and leave this page open meanwhile.";
const WRITTEN = "There is room again: your changes are kept on this phone now.";

const values = new Map(); // name -> value, or null where there is none
const texts = new Map(); // name -> the same as it was last read or written here
const changes = new Map(); // name -> how often it was changed here
const unwritten = new Map(); // name -> the record of its last change, which is not on the disk, or null where that is not tried again: what stands there is older than what is here
const hearers = new Map(); // kind -> what wants to know that another tab has changed it
const channel = openChannel();

let batch = null; // what the next write takes along: name -> record, or null for one that goes
let written = Promise.resolve(true);

if (channel) channel.onmessage = ({ data }) => followOthers(data);
document.addEventListener("fieldslate:look", lookAgain); // every few seconds, and at each return to the page

/** Looks up records, each once: from then on `read` has them. */
export async function lookUp(...kinds) {
  const missing = kinds.filter(({ name }) => !values.has(name));
  const found = Promise.all(missing.map(recordOf));
  const records = await Promise.race([found, tooLate()]).catch(() => {
    refuse(); // else what is entered now would be written over what is still there
    return [];
  });
  const damaged = missing.filter((kind, place) => take(kind, records[place]));
  for (const { onDamage } of damaged) onDamage?.(); // it may rest on another of them
}

/** Returns what is kept of a kind that was looked up, or null. */
export const read = ({ name }) => values.get(name) ?? null;

/** Keeps a value, and says once it is on the disk whether it is. */
export async function keep(kind, value) {
  const { name, version, isQuiet } = kind;
  const text = kind.eachFits ? textOf(name, value) : JSON.stringify(value);
  values.set(name, value);
  texts.set(name, text);
  const isKept = await put(name, { version, checksum: checksum(name, version, text), value: text });
  if (!isKept && !isQuiet) {
    takeAway(WRITTEN);
    say(isRefused() ? REFUSED : NOT_WRITTEN);
  }
  return isKept;
}

/** Keeps several values in one go, all of them or none, and says whether they are on the disk: else what was there before holds again. */
export async function keepAll(pairs) {
  const before = pairs.map(([{ name }]) => [name, values.get(name) ?? null, texts.get(name), unwritten.get(name)]);
  const areKept = await Promise.all(pairs.map(([kind, value]) => keep({ ...kind, isQuiet: true }, value)));
  if (areKept.every(Boolean)) return true;
  for (const [name, value, text, record] of before) {
    values.set(name, value);
    if (text === undefined) texts.delete(name);
    else texts.set(name, text);
    if (record === undefined) unwritten.delete(name); // what stands on the disk is what is here
    else unwritten.set(name, record);
  }
  return false;
}

export function forget({ name }) {
  values.set(name, null);
  texts.delete(name);
  return put(name, null);
}

/** Forgets every record whose name begins with `start`, but for those that begin with `but`. */
export async function forgetAll(start, but = null) {
  const names = await inStore("readonly", (store) => store.getAllKeys()).catch(() => []);
  for (const name of new Set([...names, ...values.keys()])) {
    if (name.startsWith(start) && (but === null || !name.startsWith(but))) forget({ name });
  }
}

/** Calls `hear` whenever another tab has changed what is kept of a kind. */
export const hearOf = (kind, hear) => hearers.set(kind, hear);

/** Reads a kind anew, as another tab may have changed it, and says whether it has. */
export async function refresh(kind) {
  if (isRefused()) return false; // there is nothing but what is here
  const changedHere = changes.get(kind.name);
  await written;
  if (unwritten.has(kind.name)) return false;
  const record = await recordOf(kind);
  if (changes.get(kind.name) !== changedHere) return false; // what this page has is newer
  if (record?.value === texts.get(kind.name)) return false;
  if (read(kind) !== null && !isWhole(kind, record)) return goOnWithOwn(kind, record);
  if (take(kind, record, true)) kind.onDamage?.();
  return true;
}

/** What this page has of a record goes on where the one on the disk is damaged, or gone: no tab takes away what others may hear of. */
function goOnWithOwn(kind, record) {
  if (record !== undefined) {
    putAside(kind, record);
    kind.onDamage?.();
  }
  keep(kind, read(kind));
  return false;
}

function followOthers(names) {
  for (const name of names) if (unwritten.has(name)) unwritten.set(name, null); // theirs is the newer one, and must not be written over
  return follow((kind) => names.includes(kind.name));
}

/** Whoever hears of one change finds the others of the same write made too. */
async function follow(isMeant) {
  const changed = [];
  for (const [kind, hear] of hearers) if (isMeant(kind) && (await refresh(kind))) changed.push(hear);
  for (const hear of changed) hear();
}

/** A page that slept has heard of nothing. */
function lookAgain() {
  writeAgain();
  if (!document.hidden) follow(({ name }) => values.has(name));
}

// What is read is checked

/** Returns the record, or undefined where there is none; null for one that the browser itself cannot read any more. */
async function recordOf(kind) {
  try {
    return await inStore("readonly", (store) => store.get(kind.name));
  } catch {
    return isRefused() ? undefined : null;
  }
}

/** Has a record from here on, and says whether it is damaged. */
function take(kind, record, isNewer = false) {
  const { name } = kind;
  if (values.has(name) && !isNewer) return false; // kept meanwhile
  const { value, lost } = record === undefined ? { value: null, lost: [] } : opened(kind, record);
  if (value === undefined) putAside(kind, record);
  values.set(name, value ?? null);
  if (record !== undefined && value !== undefined) texts.set(name, record.value);
  else texts.delete(name);
  if (lost.length) putPartAside(kind, record, lost);
  return value === undefined;
}

/** Returns {value, lost}: what a record holds, or no value where it does not hold; of a list, the names of what does not. */
function opened(kind, record) {
  const { name, version, fits, eachFits } = kind;
  try {
    if (typeof record.value !== "string") return { value: undefined, lost: [] };
    if (eachFits) return openedList(kind, record);
    const isIntact = record.version === version && record.checksum === checksum(name, version, record.value);
    const value = isIntact ? JSON.parse(record.value) : undefined;
    return { value: fits(value) ? value : undefined, lost: [] };
  } catch {
    return { value: undefined, lost: [] };
  }
}

const isWhole = (kind, record) => record !== undefined && opened(kind, record).value !== undefined;

/** What is whole of a list stays, and stands in the place of the damaged one. */
function putPartAside(kind, record, lost) {
  put(ASIDE + kind.name, record);
  keep(kind, read(kind));
  say(`Something that was kept on this phone is damaged, and put aside, among ${kind.called}: ${lost.join(", ")}.`);
}

function putAside({ name, called }, record) {
  put(ASIDE + name, record);
  put(name, null);
  say(`Something that was kept on this phone is damaged, and put aside: ${called}.`);
}

// What is written is written through

/** Says once it is on the disk whether it is. What is changed in one go is written in one go. */
function put(name, record) {
  if (!batch) {
    batch = new Map();
    written = Promise.resolve().then(write);
  }
  batch.set(name, record);
  changes.set(name, (changes.get(name) ?? 0) + 1);
  return written;
}

async function write() {
  const records = batch;
  batch = null;
  try {
    await inStore("readwrite", (store) =>
      Promise.all(Array.from(records, ([name, record]) => (record === null ? store.delete(name) : store.put(record, name)))),
    );
  } catch {
    records.forEach((record, name) => unwritten.set(name, record));
    return false;
  }
  records.forEach((_, name) => unwritten.delete(name));
  channel?.postMessage([...records.keys()]);
  return true;
}

/** What found no room is tried again for as long as the page is open, and it is said once it is on the disk. */
async function writeAgain() {
  const waiting = [...unwritten].filter(([, record]) => record !== null);
  if (isRefused() || !waiting.length || batch) return;
  await Promise.all(waiting.map(([name, record]) => put(name, record)));
  if (!unwritten.size && takeAway(NOT_WRITTEN)) say(WRITTEN);
}

/** Fails after ten seconds. A phone that sleeps meanwhile wakes to one of them, and not to the end of all. */
async function tooLate() {
  for (let second = 0; second < LIMIT_S; second += 1) await new Promise((goOn) => setTimeout(goOn, 1_000));
  throw new Error("The store did not open.");
}

/** A browser that keeps nothing for a site may refuse it this as well. */
function openChannel() {
  try {
    return new BroadcastChannel(NAME);
  } catch {
    return null;
  }
}
