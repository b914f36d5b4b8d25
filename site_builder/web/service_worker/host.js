// What comes from the host. It may be cut short, wrong, unpacked on the way or stand still: only what has the right hash counts.

import { letGo } from "../let_go.js";
import { isSentPacked, SCOPE, sentSize } from "./built.js";
import { firstAidPage, isFirstAid } from "./first_aid.js";
import { isIntact, put } from "./store.js";

const STALLS_AFTER_MS = 15_000; // with no byte at all: a slow line sends some

export class NotAsBuilt extends Error {}
export class Stalled extends Error {}

// What is on its way, by content: the engine and the saving want the same files on a first visit, and each comes once.
const coming = new Map(); // SHA-256 -> {file, read, result, isWanted}
let heard = () => {};

/** Has `listener` called with each file of which bytes have come, and whether it is now kept. */
export const hearBytes = (listener) => (heard = listener);

/** Returns how many bytes have come of files that are not whole yet: of those with these hashes. */
export function bytesComing(hashes) {
  const those = [...coming.values()].filter(({ file }) => hashes.has(file.sha256));
  return those.reduce((sum, { file, read }) => sum + Math.min(read, sentSize(file)), 0);
}

/** Returns the bytes of a file, which are kept if there is room: a full phone still gets its page. */
export async function fetched(file) {
  const way = wayOf(file);
  way.isWanted = true;
  return (await way.result).body;
}

/** Fetches a file to keep it, and returns what came in the way, or null. */
export const saved = (file) => wayOf(file).result.then(({ failure }) => failure, (error) => error);

function wayOf(file) {
  if (!coming.has(file.sha256)) {
    const way = { file, read: 0 };
    coming.set(file.sha256, way);
    way.result = fetchAndKeep(way).finally(() => coming.delete(file.sha256));
  }
  return coming.get(file.sha256);
}

async function fetchAndKeep(way) {
  const body = await fetchIntact(way);
  const failure = await put(way.file.sha256, body).then(() => null, (error) => error);
  coming.delete(way.file.sha256);
  heard(way.file, !failure);
  if (!way.isWanted) letGo(body);
  return { body, failure };
}

// The browser's own cache may hold what the page just loaded; then it is asked past. All engines do this alike: WebKit fetches
// what others say is not in their cache.
async function fetchIntact(way) {
  const { file } = way;
  const builtIn = isFirstAid(file) && firstAidPage(file).slice().buffer;
  if (await isIntact(builtIn, file)) return builtIn; // another version may ask for another text
  const plain = file.path === "index.html" ? SCOPE : SCOPE + encodeURI(file.path); // as pilots come in
  const ways = [[plain, "force-cache"], [plain, "reload"]];
  if (isSentPacked(file)) ways.unshift([`${SCOPE}${encodeURI(file.path)}.gz`, "force-cache"]);
  let failure;
  for (const [address, cache] of ways) {
    failure = new NotAsBuilt(file.path);
    try {
      const body = await download(address, cache, way);
      if (await isIntact(body, file)) return body; // a host may have unpacked it on the way
      const unpackedBody = body && (await unpacked(body));
      if (body) letGo(body);
      if (await isIntact(unpackedBody, file)) return unpackedBody;
    } catch (error) {
      failure = error;
      if (error instanceof Stalled) break;
    }
  }
  throw failure;
}

// The bytes are kept, not the response: one that a host redirected could not answer a navigation.
async function download(address, cache, way) {
  const ending = new AbortController();
  let clock;
  const wait = () => {
    clearTimeout(clock);
    clock = setTimeout(() => ending.abort(), STALLS_AFTER_MS);
  };
  try {
    wait();
    const response = await fetch(address, { cache, mode: "same-origin", signal: ending.signal });
    if (!response.ok) return ending.abort(), null;
    const parts = [];
    const reader = response.body.getReader();
    for (way.read = 0; way.read <= Math.max(way.file.size, sentSize(way.file)); heard(way.file, false)) {
      wait();
      const { done, value } = await reader.read();
      if (done) return joined(parts);
      parts.push(value);
      way.read += value.length;
    }
    ending.abort();
    return null; // longer than anything of ours
  } catch (error) {
    throw ending.signal.aborted ? new Stalled(way.file.path) : error;
  } finally {
    clearTimeout(clock);
  }
}

// Not by a Blob, which would be one more copy.
function joined(parts) {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let place = 0;
  for (const part of parts) {
    all.set(part, place);
    place += part.length;
    letGo(part.buffer);
  }
  return all.buffer;
}

async function unpacked(body) {
  if (!("DecompressionStream" in self)) return null;
  const { readable, writable } = new DecompressionStream("gzip");
  const into = writable.getWriter();
  Promise.all([into.write(body), into.close()]).catch(() => {}); // whoever reads hears of it
  const parts = [];
  const reader = readable.getReader();
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) parts.push(part.value);
    return joined(parts);
  } catch {
    return null; // it was not packed, or is cut short
  }
}
