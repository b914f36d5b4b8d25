// The page of my packs, of my chargers or of my supplies: the list of them, one of them, and the form in which one is entered. Which of
// these is open stands in the address, so that the way back leads to the list.

import { make, makeButton, write } from "./page_parts.js";
import { openLog } from "./log_kept.js";
import { showLog } from "./log_page.js";
import * as own from "./own_kept.js";
import { clubThings, showClub } from "./own_club.js";
import { showForm } from "./own_form.js";
import { forgetAdded, showThing } from "./own_thing.js";
import { FACTS, lineOf, stateOf } from "./own_words.js";
import { keptEntries } from "./kept_entries.js";
import { oneAtATime } from "./second_taps.js";
import { ofMyPacks } from "./several.js";

const WORDS = { pack: "pack", charger: "charger", supply: "supply" };

let page, place, kind, said;
let several; // the line that unfolds to the ways to charge some of them together
let undo = null; // {words, list}: what the last tap took out

export async function start(leaving) {
  page = document.getElementById("own");
  place = document.getElementById("own-place");
  said = document.getElementById("own-said");
  kind = page.dataset.kind;
  undo = null;
  several = kind === "pack" ? ofMyPacks(leaving) : null;
  forgetAdded();
  const again = () => place.querySelector("form") || show(); // what is being typed stays
  document.addEventListener("fieldslate:own", again, { signal: leaving });
  document.addEventListener("fieldslate:log", again, { signal: leaving });
  const pack = kind === "pack" && (asked("log") ?? asked("id"));
  if (own.thingOf("pack", pack)) await openLog(pack);
  if (!leaving.aborted) show();
}

const asked = (name) => new URLSearchParams(location.search).get(name);
const here = (query = "") => `${page.dataset.page}.html${query}`;

function show() {
  const open = own.thingOf(kind, asked("id"));
  const logged = kind === "pack" && own.thingOf("pack", asked("log"));
  if (logged) return showLog({ place, pack: logged, line: asked("line") ?? "", say: (words) => write(said, words) });
  const edited = own.thingOf(kind, asked("edit"));
  if (edited) return showForm({ place, kind, thing: edited, done: saved });
  if (asked("new") !== null) return showForm({ place, kind, thing: blankFrom(asked("new")), done: saved });
  if (open) return showThing({ place, kind, thing: open, here, again: show, remove: oneAtATime(() => removeIt(open)) });
  showList();
}

/** What a new one begins with: nothing, the label of one that is like it, or the label that was entered last. */
function blankFrom(like) {
  const thing = { id: own.newId(), name: "", entries: {}, dates: {}, isNew: true };
  const other = own.thingOf(kind, like);
  const { dated } = FACTS[kind];
  if (other) thing.entries = Object.fromEntries(Object.entries(other.entries).filter(([name]) => !dated.includes(name)));
  if (like === "entered") thing.entries = enteredBefore();
  return thing;
}

/** Returns the label among the last entries, by the names that are kept: nothing that was measured. */
function enteredBefore() {
  const entered = keptEntries();
  const { entries, dated } = FACTS[kind];
  const textOf = (name) => (entered.get(name) ?? entered.get(name.replace(/^outputs_1_/, "")))?.[0] ?? "";
  return Object.fromEntries(entries.filter((name) => !dated.includes(name)).map((name) => [name, textOf(name)]).filter(([, text]) => text !== ""));
}

function saved(thing, isKept) {
  history.replaceState(history.state, "", here());
  showList();
  write(said, isKept ? `${thing.name} is kept on this phone.` : `${thing.name} is there until this page is closed: this phone keeps nothing now.`);
  place.querySelector(`[data-id="${thing.id}"]`)?.focus();
}

// The list

function showList() {
  const all = own.things(kind);
  const entered = { name: "", entries: enteredBefore() };
  const says = FACTS[kind].least.every((name) => entered.entries[name]) && !all.some((one) => lineOf(kind, one) === lineOf(kind, entered)) ? lineOf(kind, entered) : "";
  place.replaceChildren(
    ...(undo ? [undoLine()] : []),
    make("ul", { class: "own-tiles" }, ...all.map(tileOf), make("li", {}, make("a", { class: "own-tile own-new", href: here("?new=") }, `+ New ${WORDS[kind]}`))),
    ...(says ? [make("p", {}, make("a", { class: "button", href: here("?new=entered") }, `Keep what you entered last: ${says}`))] : []),
    ...(several && all.length > 1 ? [several.element] : []),
    make("p", { class: "own-others" }, make("a", { href: "save-and-share.html" }, "Save and share"), " ", make("a", { href: "save-and-share.html?read=" }, "Read a code")),
    clubLine(all),
  );
  several?.show();
}

function tileOf(thing) {
  const says = [make("b", {}, thing.name), make("span", {}, lineOf(kind, thing))];
  if (kind === "pack" && stateOf(thing)) says.push(make("span", { class: "own-state" }, stateOf(thing)));
  return make("li", {}, make("a", { class: "own-tile", href: here(`?id=${thing.id}`), "data-id": thing.id }, ...says));
}

function clubLine(all) {
  const isIn = all.some(({ id }) => clubThings()[kind].some((one) => one.id === id));
  const words = isIn ? "Take the club's examples out" : "Put the club's examples in";
  const act = oneAtATime(async () => {
    const back = await showClub(!isIn);
    if (isIn) undo = { words: "The club's examples are taken out.", back };
    showList();
    place.querySelector(isIn ? ".own-undo button" : ".own-club button")?.focus();
  });
  return make("p", { class: "own-club" }, makeButton(words, act), " ", make("span", {}, "An invented club's packs, chargers and supplies, to try Fieldslate with."));
}

function undoLine() {
  const { words, back } = undo;
  const button = makeButton("Put back", async () => {
    undo = null;
    await back();
    showList();
  });
  return make("p", { class: "own-undo", role: "status" }, words, " ", button);
}

async function removeIt(thing) {
  history.replaceState(history.state, "", here());
  undo = { words: `${thing.name} is removed.`, back: await own.takeOut({ [kind]: [thing.id] }) };
  showList();
  place.querySelector(".own-undo button").focus();
}
