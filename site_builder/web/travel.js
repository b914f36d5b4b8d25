// From page to page with no new start: the next page's parts take the place of this one's, so the engine, the timers and
// the sound go on. A link stays a link. Whatever does not go as it should is left to the browser: a page that is missing, no
// signal, a fetch that hangs, another version. Longer than most: what a browser does by itself at each link is done here, all of it.
/* eslint-disable max-lines */

import { bringScrollBack, jumpTo, keepScroll } from "./scroll_kept.js";
import { parsed } from "./trusted.js";

const HANGS_AFTER_MS = 3_000;
const PARTS = [".top", "main", ".bottom"]; // the rest of the frame stays

const folder = new URL("./", location.href);
const fetched = new Map(); // path -> its HTML, as this version has it

let arrive;
let leaving = new AbortController();
let turn = 0; // a newer way drops an older one
let here; // the history's entry: {visit, place}. Headings of one page share its visit

/** Calls `arrived` with the signal of the page's end, now and at each page that is gone to. */
export function start(arrived) {
  arrive = arrived;
  history.scrollRestoration = "manual"; // the browser would scroll before the page is there
  enter(history.state?.visit ? history.state : { visit: newKey(), place: newKey() });
  document.addEventListener("click", followLink);
  addEventListener("popstate", ({ state }) => (state?.visit ? goBack(state) : headingReached()));
  addEventListener("pagehide", remember);
  arrive(leaving.signal).then(scrollBack);
}

// Ways

function followLink(event) {
  if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  const link = event.target.closest?.("a[href]");
  if (!link || link.target || !isPage(link)) return;
  if (link.hash && withoutHash(link) === withoutHash(location)) return remember();
  event.preventDefault();
  go(link);
}

/** Goes to an address as a link does. */
export const goTo = (address) => go({ href: new URL(address, location.href).href });

async function go(link) {
  const next = await ready(link.href);
  if (next === undefined) return;
  const address = link.href; // anew: it carries what was typed meanwhile
  if (!next) return location.assign(address);
  remember();
  leave();
  const isSame = address === location.href; // as a browser does: the same address twice is one entry
  here = { visit: newKey(), place: newKey() };
  try {
    history[isSame ? "replaceState" : "pushState"](here, "", address);
  } catch {
    return location.assign(address); // a browser may allow only so many in a minute
  }
  show(next);
  begin();
  goToTarget();
}

async function goBack(state) {
  remember();
  const isSamePage = state.visit === here.visit;
  here = state;
  if (isSamePage) return scrollBack();
  leave(); // at once: the page that is left must not write into the address of the other
  const next = await ready(location.href);
  if (next === undefined) return;
  if (!next) return location.reload();
  show(next);
  announce();
  await begin();
  scrollBack();
}

/** A page that cannot be started here would stand without its calculator: the browser then fetches all of it. */
const begin = () => arrive(leaving.signal).catch(() => location.reload());

/** A link to a heading of this page has made an entry of its own. */
function headingReached() {
  enter({ visit: here.visit, place: newKey() });
}

// Pages

/** Returns the page, null if the browser has to go there by itself, or undefined if the pilot has gone elsewhere meanwhile. */
async function ready(address) {
  const mine = ++turn;
  const next = await pageAt(new URL(address).pathname).catch(() => null);
  const isOurs = next && version(next) === version(document) && (await dressed(next).catch(() => false));
  if (mine !== turn) return undefined;
  return isOurs ? next : null;
}

/** Has the style sheets come that the next page has and this one has not; they stay. */
async function dressed(next) {
  const first = document.querySelector("link[rel=stylesheet]");
  for (const link of next.querySelectorAll("link[rel=stylesheet]")) {
    if (document.querySelector(`link[href="${link.getAttribute("href")}"]`)) continue;
    const sheet = document.importNode(link);
    await new Promise((resolve, reject) => {
      sheet.addEventListener("load", resolve);
      sheet.addEventListener("error", reject);
      setTimeout(reject, HANGS_AFTER_MS);
      first.before(sheet); // in the order in which a page names them
    });
  }
  return true;
}

async function pageAt(path) {
  if (!fetched.has(path)) {
    const response = await fetch(path, { signal: AbortSignal.timeout(HANGS_AFTER_MS) });
    if (!response.ok) throw new Error(`${response.status} for ${path}`);
    fetched.set(path, await response.text());
  }
  return parsed(fetched.get(path));
}

const version = (page) => `${page.querySelector("script[src]")?.getAttribute("src")} ${page.body.dataset.engine}`;

function leave() {
  leaving.abort();
  leaving = new AbortController();
}

function show(next) {
  document.title = next.title;
  document.body.dataset.page = next.body.dataset.page;
  for (const part of PARTS) document.querySelector(part).replaceWith(next.querySelector(part));
}

// What a browser does by itself: says where we are, puts the focus there, scrolls

function goToTarget() {
  const target = location.hash && document.getElementById(location.hash.slice(1));
  announce(target || undefined);
  if (target) location.replace(location.hash); // marks it as :target and scrolls to it
  else jumpTo(0);
}

function announce(element = document.querySelector("h1")) {
  document.getElementById("arrived").textContent = document.title;
  element.tabIndex = -1;
  element.focus({ preventScroll: true });
}

function enter(entry) {
  here = entry;
  try {
    history.replaceState(here, "");
  } catch {
    // The same: the way back then begins at the top of the page.
  }
}

const remember = () => keepScroll(here.place);
const scrollBack = () => bringScrollBack(here.place, leaving.signal);
const isPage = ({ origin, pathname }) =>
  origin === folder.origin && pathname.startsWith(folder.pathname) && /^([^/]*\.html)?$/.test(pathname.slice(folder.pathname.length));
const withoutHash = ({ href, hash }) => href.slice(0, href.length - hash.length);
const newKey = () => String(Math.random());
