// The store that kept.js keeps its records in: IndexedDB, opened once, and again where the browser has closed it.

import { openDB } from "idb";
import { checksum } from "./checksum.js";

const HERE = new URL("./", document.baseURI).pathname; // another copy on the same host has a store of its own
/** Its name, and that of the channel on which other tabs hear of changes. */
export const NAME = `fieldslate ${HERE}`;
const STORE = "kept";
const IN_STRICT_ORDER = { durability: "strict" }; // on the disk, and not only on its way there
// What was kept in localStorage before, which is written late: taken over once.
const BEFORE = { entries: "fieldslate.entries", units: "fieldslate.units", "running-card": "fieldslate.running-card" };
const BEFORE_STARTS = "fieldslate.";

let opening = null;
let refuses = false;

/** Says whether nothing can be kept in this browser. */
export const isRefused = () => refuses;

/** Keeps nothing from here on. */
export function refuse() {
  refuses = true;
  opening = Promise.reject(new Error("Nothing can be kept in this browser."));
  return opening;
}

/** Returns what `act` has of the store, once that is on the disk. */
export async function inStore(mode, act, isAgain = false) {
  const database = await (opening ??= open());
  let work;
  try {
    work = database.transaction(STORE, mode, IN_STRICT_ORDER);
  } catch (fault) {
    if (isAgain || fault.name !== "InvalidStateError") throw fault;
    opening = null; // the browser has closed it
    return inStore(mode, act, true);
  }
  let acted;
  try {
    acted = act(work.store);
  } catch (fault) {
    work.done.catch(() => {});
    work.abort(); // else what was asked before the fault would be written alone
    throw fault;
  }
  work.commit?.(); // all is asked: a page that is left now takes nothing back
  const [result] = await Promise.all([acted, work.done]);
  return result;
}

async function open() {
  try {
    const database = await openDB(NAME, 1, { upgrade, blocking });
    await takeOver(database);
    return database;
  } catch {
    return refuse();
  }
}

const upgrade = (database) => database.createObjectStore(STORE);
const blocking = (_, __, { target }) => target.close(); // a newer version of Fieldslate wants to change it

async function takeOver(database) {
  let before;
  try {
    before = Object.keys(localStorage).filter((key) => key.startsWith(BEFORE_STARTS));
    if (!before.length) return;
  } catch {
    return; // refused
  }
  const { store, done } = database.transaction(STORE, "readwrite", IN_STRICT_ORDER);
  for (const [name, key] of Object.entries(BEFORE)) {
    const text = localStorage.getItem(key);
    if (text !== null && !(await store.getKey(name))) store.put({ version: 1, checksum: checksum(name, 1, text), value: text }, name);
  }
  await done;
  for (const key of before) localStorage.removeItem(key);
}
