// The store. It may be full, damaged or gone: whoever reads from it then finds nothing, whoever writes hears of it.

import { contents, SCOPE, SCOPE_PATH } from "./built.js";

const STORE = `fieldslate-files-${SCOPE_PATH}`; // one origin may hold us twice, under two paths
const FOLDER = `${SCOPE}.stored/`;
const opened = () => caches.open(STORE);
const addressOf = (name) => FOLDER + name;

export async function put(name, body) {
  await (await opened()).put(addressOf(name), new Response(body));
}

export async function remove(name) {
  await (await opened()).delete(addressOf(name));
}

export async function stored(name) {
  try {
    return await (await opened()).match(addressOf(name), { ignoreVary: true });
  } catch {
    return undefined;
  }
}

/** Returns the bytes under a name, or null. */
export async function storedBytes(name) {
  try {
    return await (await stored(name)).arrayBuffer();
  } catch {
    return null;
  }
}

export async function storedIntact(file) {
  const body = await storedBytes(file.sha256);
  return (await isIntact(body, file)) ? body : null;
}

/** Returns those of which nothing is stored. Each content counts once. */
export async function notStored(files) {
  const names = new Set(await storedNames());
  return contents(files).filter((file) => !names.has(file.sha256));
}

export async function removeAllBut(names) {
  for (const name of await storedNames()) if (!names.has(name)) await remove(name);
}

async function storedNames() {
  try {
    return (await (await opened()).keys()).map(({ url }) => url.slice(FOLDER.length));
  } catch {
    return [];
  }
}

export const isIntact = async (body, file) => body?.byteLength === file.size && (await sha256Of(body)) === file.sha256;

export async function sha256Of(body) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
