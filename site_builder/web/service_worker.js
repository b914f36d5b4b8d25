// Keeps every file of Fieldslate on the phone and answers from there, so that all of it works with no signal.
//
// A file lies in one store under the SHA-256 of its content, never under its name: saving that was interrupted goes on with
// what is there, an update fetches only what changed. site_builder/building/offline.py fills in the three marked values.

const VERSION = /* version */ "";
const POLICY = /* policy */ "";
const FILES = /* files */ []; // {path, sha256, size, type, first, packed} each, in the order in which they are saved
// `first`: it helps against a fire. `packed`: the size of path.gz, which is fetched in its place and unpacked; the hash is
// of what is in it.
const OURS = { version: VERSION, policy: POLICY, files: FILES };

const SCOPE = self.registration.scope;
const SCOPE_PATH = new URL(SCOPE).pathname;
const STORE = `fieldslate-files-${SCOPE_PATH}`; // one origin may hold us twice, under two paths
const LIST_IN_USE = `${SCOPE}.stored/list-in-use`;
const RUNNING_CARD = `${SCOPE}.stored/running-card`;
const keyOf = (file) => `${SCOPE}.stored/${file.sha256}`;
const UNPACKS = "DecompressionStream" in self;
const isSentPacked = (file) => UNPACKS && file.packed > 0;
const sentSize = (file) => (isSentPacked(file) ? file.packed : file.size);

class NotAsBuilt extends Error {}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(SCOPE)) event.respondWith(answer(request));
});
self.addEventListener("message", (event) => {
  const { kind, ...given } = event.data;
  event.waitUntil(JOBS[kind](given).then((reply) => event.ports[0]?.postMessage(reply)));
});

const JOBS = {
  "take-over": () => self.skipWaiting(),
  card: noteCard,
  state,
  save,
  check,
};

// Saving

// On a first visit what helps against a fire is enough to answer with: it must open with no signal while the rest comes. A
// new version is not begun with before it is whole, since the one before it answers meanwhile.
async function install() {
  if (self.registration.active) await saveEach(OURS);
  else await tellingTrouble(() => saveEach(OURS, (file) => file.first, tellProgress));
}

let saving = null;

async function save() {
  saving ??= tellingTrouble(async () => saveEach(await currentList(), () => true, tellProgress)).finally(() => (saving = null));
  await saving;
  return { kind: "saved" };
}

async function saveEach({ files }, isWanted = () => true, tell = () => {}) {
  const wanted = files.filter(isWanted);
  // Again until nothing is missing: a version that takes over meanwhile removes what only this one uses.
  for (let missing = await notStored(wanted); missing.length; missing = await notStored(wanted)) {
    const total = sentBytes(contents(files));
    let done = total - sentBytes(await notStored(files));
    for (const file of missing) {
      const { failure } = await fetched(file, (read) => tell(done + read, total));
      if (failure) throw failure;
      done += sentSize(file);
    }
  }
}

let told = null;

function tellProgress(done, total) {
  const shown = Math.round(done / 100_000); // the page shows MB with one decimal
  if (shown === told) return;
  told = shown;
  tellPages({ kind: "progress", done, total });
}

async function tellingTrouble(step) {
  told = null;
  try {
    await step();
  } catch (error) {
    await tellPages({ kind: "trouble", signalLost: error instanceof TypeError, sentence: troubleSentence(error) });
    throw error;
  }
}

// What is on its way, by content: the engine and the saving want the same files on a first visit, and each comes once.
const coming = new Map();

function fetched(file, report = () => {}) {
  report(0);
  if (!coming.has(file.sha256)) {
    coming.set(file.sha256, fetchAndKeep(file, report).finally(() => coming.delete(file.sha256)));
  }
  return coming.get(file.sha256);
}

async function fetchAndKeep(file, report) {
  const body = await fetchIntact(file, report);
  const failure = await put(keyOf(file), body).then(() => null, (error) => error);
  return { body, failure }; // a full phone still gets its page
}

// The browser's own cache first: on a first visit it has what the page just loaded, and the hash tells if that is right.
async function fetchIntact(file, report) {
  if (isSentPacked(file)) {
    const loaded = await download(addressOf(file), file.size, "only-if-cached").catch(() => null);
    if (await isIntact(loaded, file)) return loaded;
  }
  for (const cache of ["force-cache", "reload"]) {
    const body = await downloadAsSent(file, cache, report);
    if (await isIntact(body, file)) return body;
  }
  throw new NotAsBuilt(file.path);
}

async function downloadAsSent(file, cache, report) {
  if (!isSentPacked(file)) return download(addressOf(file), file.size, cache, report);
  const packed = await download(`${SCOPE}${encodeURI(file.path)}.gz`, file.packed, cache, report);
  return packed && unpacked(packed);
}

// The bytes are kept, not the response: one that a host redirected could not answer a navigation.
async function download(address, size, cache, report = () => {}) {
  const response = await fetch(address, { cache, mode: "same-origin" });
  if (!response.ok) return null;
  const body = new Uint8Array(size);
  const reader = response.body.getReader();
  for (let read = 0; ; report(read)) {
    const { done, value } = await reader.read();
    if (done) return read === size ? body : null;
    if (read + value.length > size) return reader.cancel().then(() => null);
    body.set(value, read);
    read += value.length;
  }
}

function addressOf(file) {
  return file.path === "index.html" ? SCOPE : SCOPE + encodeURI(file.path); // as pilots come in
}

function unpacked(body) {
  const stream = new Blob([body]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer().catch(() => null);
}

function troubleSentence(error) {
  if (error instanceof NotAsBuilt) return `The host sent a wrong file (${error.message}). Saving is tried again at the next visit.`;
  if (error instanceof TypeError) return "The signal was lost. Saving goes on when it is back.";
  const room = Math.ceil(contents(FILES).reduce((sum, file) => sum + file.size, 0) / 1_000_000);
  return `There is not enough room on this phone: free ${room} MB, then open this page again.`;
}

// The store

const put = async (key, body) => (await caches.open(STORE)).put(key, new Response(body));
const stored = async (key) => (await caches.open(STORE)).match(key);

async function notStored(files) {
  const keys = new Set((await (await caches.open(STORE)).keys()).map((request) => request.url));
  return contents(files).filter((file) => !keys.has(keyOf(file)));
}

async function storedIntact(file) {
  const body = await stored(keyOf(file)).then((response) => response?.arrayBuffer()).catch(() => null);
  return (await isIntact(body, file)) ? body : null;
}

async function isIntact(body, file) {
  if (body?.byteLength !== file.size) return false;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("") === file.sha256;
}

const contents = (files) => [...new Map(files.map((file) => [file.sha256, file])).values()];
const sentBytes = (files) => files.reduce((sum, file) => sum + sentSize(file), 0);

// Which version answers
//
// The browser ends a waiting version's wait once all tabs are closed, and a phone may close them in the middle of a card.
// So the list that pages are answered from lies in the store, and is replaced only while no card runs.

let listInUse;

async function currentList() {
  listInUse ??= (await (await stored(LIST_IN_USE))?.json()) ?? OURS;
  return listInUse;
}

async function activate() {
  if (!(await stored(RUNNING_CARD))) await takeOver();
  await self.clients.claim();
}

async function takeOver() {
  await put(LIST_IN_USE, JSON.stringify(OURS));
  listInUse = OURS;
  const used = new Set([LIST_IN_USE, ...FILES.map(keyOf)]);
  const store = await caches.open(STORE);
  for (const { url } of await store.keys()) if (!used.has(url)) await store.delete(url);
}

async function takeOverIfNothingIsOpen() {
  if ((await currentList()).version === VERSION || (await stored(RUNNING_CARD))) return;
  if ((await self.clients.matchAll({ type: "window" })).length === 0) await takeOver();
}

// Answering

async function answer(request) {
  const isPage = request.mode === "navigate";
  if (isPage) await takeOverIfNothingIsOpen();
  const list = await currentList();
  const file = fileAt(request.url, list);
  try {
    return file ? await keptResponse(file, list) : await fetch(request);
  } catch (error) {
    if (!isPage) throw error;
    // A host that went on to a new version before this one was whole: its page brings scripts and engine of its own.
    if (error instanceof NotAsBuilt) return fetch(request).catch(() => noSignalPage(list));
    return noSignalPage(list);
  }
}

function fileAt(url, list) {
  const path = decodedPath(url) || "index.html";
  return list.files.find((file) => file.path === path || file.path === `${path}.html`);
}

function decodedPath(url) {
  const { pathname } = new URL(url);
  try {
    return decodeURIComponent(pathname.slice(SCOPE_PATH.length));
  } catch {
    return pathname; // a stray % sign: no file of ours
  }
}

async function keptResponse(file, list) {
  const body = (await storedAsIs(file)) ?? (await storedIntact(file)) ?? (await fetched(file)).body;
  return new Response(body, { headers: headersOf(file.type, list) });
}

// A .gz holds a checksum of its own, and the worker that unpacks it refuses a damaged one: it need not be read twice.
async function storedAsIs(file) {
  return file.path.endsWith(".gz") ? (await stored(keyOf(file)))?.body : null;
}

function headersOf(type, list) {
  return { "content-type": type, "content-security-policy": list.policy, "x-content-type-options": "nosniff" };
}

function noSignalPage(list) {
  const at = (path) => new URL(path, SCOPE).pathname.replaceAll("&", "&amp;");
  const style = list.files.filter((file) => file.path.endsWith(".css"));
  const html = `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>Not on this phone</title>
<meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">
<link rel="icon" href="${at("icons/icon.svg")}">
${style.map((file) => `<link rel="stylesheet" href="${at(file.path)}">`).join("\n")}
</head><body><main><h1>This page is not on this phone</h1>
<p>And it could not be fetched. When there is a signal, open it again.</p>
<p><a class="button" href="${at("pack-in-trouble.html")}">Pack in trouble: swelling, heat, smoke, crash</a></p>
<p><a class="button" href="${at("index.html")}">First page</a></p>
</main></body></html>`;
  return new Response(html, { status: 503, headers: headersOf("text/html; charset=utf-8", list) });
}

// What pages ask for

async function tellPages(message) {
  for (const page of await self.clients.matchAll({ includeUncontrolled: true, type: "window" })) page.postMessage(message);
}

async function noteCard({ running }) {
  if (running) await put(RUNNING_CARD, "");
  else await (await caches.open(STORE)).delete(RUNNING_CARD);
}

async function state() {
  const { version, files } = await currentList();
  const total = sentBytes(contents(files));
  return { kind: "state", version, total, stored: total - sentBytes(await notStored(files)) };
}

async function check() {
  const mendedPaths = [];
  const missing = [];
  for (const file of (await currentList()).files) {
    if (await storedIntact(file)) continue;
    await fetched(file).then(() => mendedPaths.push(file.path), () => missing.push(file.path));
  }
  return { kind: "checked", mended: mendedPaths, missing };
}
