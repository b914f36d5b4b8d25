// The first page: the pilot's own packs with how each was left, and what is due. A tap on a pack leads to its charge.

import { dueNow } from "./due.js";
import { noteSeen, offer } from "./notices.js";
import { things } from "./own_kept.js";
import { lineOf, needsSomething, stateOf } from "./own_words.js";
import { make } from "./page_parts.js";

const DUE_AT_FIRST = 3;
const AT_FIRST = 4; // what a screen has room for, beside the things to do

export function startHome(leaving) {
  document.addEventListener("fieldslate:own", show, { signal: leaving });
  show();
}

/** What is due stands here, and is asked for by a notice only from here. */
function showDue() {
  const due = dueNow();
  const section = document.getElementById("home-due");
  section.hidden = due.length === 0;
  const lines = due.map(({ words, says, href }) => make("li", {}, make("a", { href }, make("b", {}, words), " ", make("span", {}, says))));
  const rest = lines.splice(DUE_AT_FIRST);
  const notices = due.length ? offer(answered) : null;
  section.lastElementChild.replaceChildren(
    make("ul", { class: "to-do" }, ...lines),
    ...(rest.length ? [make("details", {}, make("summary", {}, `${rest.length} more`), make("ul", { class: "to-do" }, ...rest))] : []),
    ...(notices ? [make("p", {}, notices)] : []),
  );
  noteSeen();
}

/** The button is gone once it was answered. */
function answered() {
  showDue();
  const title = document.getElementById("home-due-title");
  title.tabIndex = -1;
  title.focus();
}

function show() {
  showDue();
  const packs = things("pack");
  const list = document.getElementById("home-packs");
  const shown = shownOf(packs, packs.length > AT_FIRST + 1 ? AT_FIRST : AT_FIRST + 1);
  const rest = packs.length - shown.length;
  const more = rest ? [make("li", {}, make("a", { class: "own-tile", href: "my-packs.html" }, make("span", {}, `${rest} more packs`)))] : [];
  list.replaceChildren(
    ...shown.map(tileOf),
    ...more,
    make("li", {}, make("a", { class: "own-tile own-new", href: "my-packs.html?new=" }, "+ New pack")),
  );
  document.getElementById("home-none").hidden = packs.length > 0;
}

/** Those that need something, then those that were last in hand; each stands where it stands in the list. */
function shownOf(packs, count) {
  const rank = (pack) => [needsSomething(pack) ? 1 : 0, pack.state?.[1] ?? 0];
  const [first, then] = [0, 1].map((part) => (one, other) => rank(other)[part] - rank(one)[part]);
  const chosen = [...packs].sort((one, other) => first(one, other) || then(one, other)).slice(0, count);
  return packs.filter((pack) => chosen.includes(pack));
}

function tileOf(pack) {
  const says = [make("b", {}, pack.name), make("span", {}, lineOf("pack", pack))];
  if (stateOf(pack)) says.push(make("span", { class: "own-state" }, stateOf(pack)));
  return make("li", {}, make("a", { class: "own-tile", href: `charge-settings.html?pick=${pack.id}` }, ...says));
}
