// Which version answers.
//
// The browser ends a waiting version's wait once all tabs are closed, and a phone may close them in the middle of a card.
// So the list that pages are answered from lies in the store, and is replaced only while no card runs. It lies there twice, each
// behind its own SHA-256, and where neither is right the list that came with this script answers.

import { letGo } from "../let_go.js";
import { contents, OURS } from "./built.js";
import { saved } from "./host.js";
import { put, remove, removeAllBut, sha256Of, stored, storedBytes, storedIntact } from "./store.js";

const LISTS = ["list-in-use", "list-in-use-again"];
const RUNNING_CARD = "running-card";
const HASH_LENGTH = 64;

let listInUse;

export async function currentList() {
  listInUse ??= (await readList(LISTS[0])) ?? (await readList(LISTS[1])) ?? OURS;
  return listInUse;
}

async function readList(name) {
  try {
    const text = new TextDecoder().decode(await storedBytes(name));
    const list = text.slice(HASH_LENGTH);
    return (await hashOf(list)) === text.slice(0, HASH_LENGTH) ? JSON.parse(list) : null;
  } catch {
    return null;
  }
}

const hashOf = (text) => sha256Of(new TextEncoder().encode(text));

async function writeLists(list) {
  const text = JSON.stringify(list);
  const sealed = (await hashOf(text)) + text;
  await put(LISTS[0], sealed);
  await put(LISTS[1], sealed).catch(() => remove(LISTS[1])); // the list before must not come back without its files
}

/** Writes the list in use anew where one of its two copies is damaged or gone. */
export async function mendLists() {
  const list = await currentList();
  for (const name of LISTS) if ((await readList(name))?.version !== list.version) return writeLists(list);
}

export async function activate() {
  if (!(await cardRuns())) await takeOver().catch(() => {}); // no room: the version before goes on
  await self.clients.claim();
}

export const cardRuns = async () => Boolean(await stored(RUNNING_CARD));

/** The version before keeps its files, and answers, until each of this one's was read back and found right. */
export async function takeOver() {
  if ((await hasNewer()) && !(await isWhole())) return;
  await writeLists(OURS);
  listInUse = OURS;
  await removeAllBut(new Set([...LISTS, ...OURS.files.map((file) => file.sha256)]));
}

async function isWhole() {
  for (const file of contents(OURS.files)) {
    const body = await storedIntact(file);
    if (!body) {
      saved(file); // for the next time: nobody waits for a host here
      return false;
    }
    letGo(body);
  }
  return true;
}

export async function takeOverIfNothingIsOpen() {
  if (!(await hasNewer()) || (await cardRuns())) return;
  if ((await self.clients.matchAll({ type: "window" })).length === 0) await takeOver();
}

/** Whether this script came with a newer version than the one that answers. */
export const hasNewer = async () => (await currentList()).version !== OURS.version;

export async function noteCard({ running }) {
  if (running) await put(RUNNING_CARD, "");
  else await remove(RUNNING_CARD);
}
