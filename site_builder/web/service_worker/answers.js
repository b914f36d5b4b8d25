// Answers what a page asks for: from the store, else from the host, else, against a fire, from this script itself.

import { letGo } from "../let_go.js";
import { FIRST_WORDS, fileAt, OURS, SCOPE } from "./built.js";
import { firstAidPage, isFirstAid } from "./first_aid.js";
import { fetched, NotAsBuilt } from "./host.js";
import { tellPages } from "./saving.js";
import { stored, storedIntact } from "./store.js";
import { cardRuns, currentList, hasNewer, takeOver, takeOverIfNothingIsOpen } from "./versions.js";

export const TAKE_NEW_VERSION = `${SCOPE}take-new-version`; // where the button of the page below sends to
const HTML = "text/html; charset=utf-8";
const MOMENT_S = 2; // in which a waiting version begins
const LARGE = 1_000_000; // bytes that a phone should not hold twice

export async function answer(request) {
  const isPage = request.mode === "navigate";
  if (isPage) await takeOverIfNothingIsOpen().catch(() => {}); // no room: the version before goes on
  const list = await currentList();
  // What a page of the newer version names carries the hash of its content, and may be here already.
  const file = fileAt(request.url, list) ?? fileAt(request.url, OURS);
  try {
    return file ? await keptResponse(file, list, isPage) : await fetch(request);
  } catch (error) {
    if (file) tellPages({ kind: "lost" });
    if (file && isFirstAid(file)) return new Response(firstAidPage(file), { headers: headersOf(file.type, list) });
    if (!isPage) throw error;
    // A host that went on to a new version before this one was whole: its page brings scripts and engine of its own.
    if (error instanceof NotAsBuilt) return fetch(request).catch(() => notHerePage(list));
    return notHerePage(list);
  }
}

async function keptResponse(file, list, isPage) {
  const headers = headersOf(file.type, list);
  const asItIs = await storedAsIs(file);
  if (asItIs) return asItIs;
  const body = await storedIntact(file);
  if (!body) return new Response(await fetched(file), { headers });
  if (isPage) return new Response(markedPage(body), { headers });
  return new Response(body.byteLength < LARGE ? body : onceOnly(body), { headers });
}

/** Marks a page as one that comes from the phone: its script is there at once, and fills in what is kept before the page is seen. */
const markedPage = (body) => new TextDecoder().decode(body).replace("<html ", "<html data-from-phone ");

/** Hands bytes out and lets go of them once they were taken. A Response of the bytes themselves may read them late, as WebKit's does. */
function onceOnly(body) {
  let isTaken = false;
  const source = {
    pull(into) {
      if (isTaken) {
        letGo(body);
        return into.close();
      }
      isTaken = true;
      return into.enqueue(new Uint8Array(body));
    },
  };
  return new ReadableStream(source, { highWaterMark: 0 }); // who asks again has taken what came before
}

// Read once, by the worker that unpacks it.
const storedAsIs = (file) => (file.checksSelf ? stored(file.sha256) : null);

const headersOf = (type, list) => ({ ...list.headers, "content-type": type });

async function notHerePage(list) {
  const hasOffer = (self.registration.waiting || (await hasNewer())) && !(await cardRuns());
  const offer = `<p>A new version of Fieldslate is on this phone.</p>
<form method="post" action="${escaped(TAKE_NEW_VERSION)}"><button class="button">Use the new version</button></form>`;
  return page(
    list,
    "This page is not on this phone",
    `<p>It could not be fetched either. When there is a signal, open it again.</p>
${hasOffer ? offer : ""}
${FIRST_WORDS}
<p><a class="button" href="${at("pack-in-trouble.html")}">Pack in trouble: swelling, heat, smoke, crash</a></p>
<p><a class="button" href="${at("index.html")}">First page</a></p>`,
  );
}

/** Needs no script in the page. The version that waits begins once this answer is given, not before. */
export async function takeNewVersion() {
  const first = at("index.html");
  if (!(await cardRuns())) {
    if (!self.registration.waiting) return takeOver().then(() => Response.redirect(SCOPE, 303), () => Response.redirect(SCOPE, 303));
    self.registration.waiting.postMessage({ kind: "take-over" });
  }
  return begins(await currentList(), first);
}

// It asks for nothing else. A style sheet would start the service worker before again while Chromium ends it, and then the way to the
// first page is given to neither of the two: it never comes.
function begins({ headers }, first) {
  const html = `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>The new version begins</title>
<meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">
<meta http-equiv="refresh" content="${MOMENT_S}; url=${first}"><link rel="icon" href="data:,">
<style>body { font: 1.2rem/1.5 sans-serif; margin: 1rem } a { display: inline-block; padding: 0.7rem 0; min-height: 48px; color: LinkText }</style>
</head><body><main><h1>The new version begins</h1>
<p><a href="${first}">Go on</a></p></main></body></html>`;
  const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";
  return new Response(html, { status: 503, headers: { ...headers, "content-type": HTML, "content-security-policy": policy } });
}

function page(list, title, body) {
  const style = list.files.filter((file) => file.path.endsWith(".css"));
  const html = `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>${title}</title>
<meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">
<link rel="icon" href="${at("icons/icon.svg")}">
${style.map((file) => `<link rel="stylesheet" href="${at(file.path)}">`).join("\n")}
</head><body><main><h1>${title}</h1>
${body}
</main></body></html>`;
  return new Response(html, { status: 503, headers: headersOf(HTML, list) });
}

const escaped = (address) => address.replaceAll("&", "&amp;");
const at = (path) => escaped(new URL(path, SCOPE).pathname);
