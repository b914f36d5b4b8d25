// Saves what is missing, one file after the other, and tells the pages how far that is.

import { contents, OURS, sentBytes } from "./built.js";
import { bytesComing, hearBytes, NotAsBuilt, saved, Stalled } from "./host.js";
import { notStored, stored } from "./store.js";
import { cardRuns, currentList } from "./versions.js";

const isLost = (error) => error instanceof TypeError;
const isLate = (error) => error instanceof NotAsBuilt || error instanceof Stalled || isLost(error);

// On a first visit what helps against a fire is enough to answer with: it must open with no signal while the rest comes. A
// new version is not begun with before it is whole, since the one before it answers meanwhile; but where that one can no
// longer become whole, because the host has gone on, the new one does not wait.
export async function install() {
  if (!self.registration.active) return tellingTrouble(() => saveEach(OURS, (file) => file.first));
  const isCut = (await notStored((await currentList()).files)).length > 0;
  await (isCut ? tellingTrouble(() => saveEach(OURS)) : saveEach(OURS));
  if (isCut && !(await cardRuns())) await self.skipWaiting();
}

let saving = null;

/** Saves what is missing. Each page that asks hears what came in the way: `told` of the error. */
export async function save() {
  saving ??= saveMissing().finally(() => (saving = null));
  await saving;
  return { kind: "saved", run };
}

async function saveMissing() {
  try {
    await saveEach(await currentList());
  } catch (error) {
    throw Object.assign(error, { told: { ...troubleOf(error), run } });
  }
}

export async function state({ engine }) {
  const { version, files } = await currentList();
  const total = sentBytes(contents(files));
  const isOfPage = !engine || files.some(({ path }) => path.startsWith(engine));
  return { kind: "state", version, isOfPage, total, stored: total - sentBytes(await notStored(files)) };
}

// A file that stands still, breaks off or is wrong keeps no other from being saved. What did not come is tried again as long as that helps.
async function saveEach({ files }, isWanted = () => true) {
  const wanted = files.filter(isWanted);
  await startCounting(files);
  let isThere = false; // the signal: a file has come since another did not
  // Again until nothing is missing: a version that takes over meanwhile removes what only this one uses.
  for (let missing = await notStored(wanted); missing.length; missing = await notStored(wanted)) {
    const late = [];
    let silentInRow = 0;
    for (const file of missing) {
      if (await stored(file.sha256)) continue; // the engine has fetched it meanwhile
      const failure = await saved(file);
      // The first ones may lie in the script or in the browser's own cache, and say nothing of the signal.
      if (failure && (!isLate(failure) || (file.first && isLost(failure)))) throw failure;
      if (failure) late.push(failure);
      const hasAnswered = !failure || failure instanceof NotAsBuilt;
      isThere ||= hasAnswered && late.length > 0;
      silentInRow = hasAnswered ? 0 : silentInRow + 1;
      if (silentInRow === 2) throw failure; // it is the host that stands still, or the signal that is lost, and not a file
      tellProgress(late.length - (silentInRow && isLost(late.at(-1)) ? 1 : 0)); // the next one tells which
    }
    const wrong = late.find((failure) => failure instanceof NotAsBuilt);
    if (wrong || late.length === missing.length) throw wrong ?? (isThere && isLost(late[0]) ? new Stalled(missing[0].path) : late[0]);
  }
}

// Progress: what was there, and every byte that has come, the engine's too

let run; // its answer may overtake what is told of it on the way: a page leaves out what comes after
let total = 0;
let lacking = new Map(); // by content
let told = null;

async function startCounting(files) {
  run = crypto.randomUUID();
  total = sentBytes(contents(files));
  lacking = new Map((await notStored(files)).map((file) => [file.sha256, file]));
  told = null;
  hearBytes((file, isKept) => {
    if (isKept) lacking.delete(file.sha256);
    tellProgress();
  });
  tellProgress();
}

let lateFiles = 0;

function tellProgress(late = lateFiles) {
  lateFiles = late;
  const done = total - sentBytes([...lacking.values()]) + bytesComing(lacking);
  const shown = `${Math.round(done / 100_000)} ${late}`; // the page shows MB with one decimal
  if (shown === told || lacking.size === 0) return;
  told = shown;
  tellPages({ kind: "progress", run, done, total, late });
}

/** A new service worker that installs itself was asked by no page: it tells them all. */
async function tellingTrouble(step) {
  try {
    await step();
  } catch (error) {
    await tellPages({ kind: "trouble", ...troubleOf(error) });
    throw error;
  }
}

function troubleOf(error) {
  if (error instanceof NotAsBuilt) {
    return { isWrong: true, sentence: `The host sent a wrong file (${error.message}). Saving is tried again at the next visit.` };
  }
  if (error instanceof Stalled) {
    return { isStalled: true, sentence: `The host has stopped sending (${error.message}). Saving is tried again by itself.` };
  }
  if (isLost(error)) return { isSignalLost: true, sentence: "The signal was lost. Saving goes on when it is back." };
  const room = Math.ceil(contents(OURS.files).reduce((sum, file) => sum + file.size, 0) / 1_000_000);
  return { sentence: `There is not enough room on this phone: free ${room} MB, then open this page again.` };
}

export async function tellPages(message) {
  for (const page of await self.clients.matchAll({ includeUncontrolled: true, type: "window" })) page.postMessage(message);
}
