// One of the pilot's own things, on its page: what it is, and of a pack how it was left, what was measured of it, and where its log leads on.

import { dayOf as lineDay, keepLine, linesOf } from "./log_kept.js";
import { countOf } from "./log_words.js";
import * as own from "./own_kept.js";
import { FACTS, lineOf, measuredOf, stateOf } from "./own_words.js";
import { dayOf, make, makeButton } from "./page_parts.js";
import { secondTaps } from "./second_taps.js";

const STATES = { flown: "Flown", charged: "Charged", stored: "At storage" };
const LOGGED_AS = { flown: "flight", charged: "charge", stored: "storage" };

const isSecondTap = secondTaps(); // it would be a second line in the log

let added = null; // {pack, line}: the line that the last tap added to a log

export const forgetAdded = () => (added = null);

/** Shows a thing in a place. `here` makes an address of the page, `again` shows it anew, and `remove` takes the thing out. */
export function showThing({ place, kind, thing, here, again, remove }) {
  const title = make("h2", { tabindex: "-1" }, thing.name);
  place.replaceChildren(
    title,
    make("p", { class: "own-line" }, lineOf(kind, thing)),
    ...(kind === "pack" ? aboutPack(thing, place, here, again) : []),
    ...(thing.entries.supply_kind === FACTS.due.refilled ? aboutBattery(thing, place) : []),
    make("p", { class: "own-actions" },
      make("a", { class: "button", href: here(`?edit=${thing.id}`) }, "Change its entries"), " ",
      make("a", { class: "button", href: here(`?new=${thing.id}`) }, "Another like this one"), " ",
      makeButton("Remove it", remove),
    ),
    make("p", {}, make("a", { class: "go-back", href: here() }, `All my ${FACTS.called[kind]}`)),
  );
}

function aboutPack(thing, place, here, again) {
  const state = make("p", { class: thing.refused ? "own-refused" : "own-state" });
  state.append(stateOf(thing) || "How it was left is not known.");
  if (thing.refused) state.replaceChildren(`${dayOf(thing.refused[1])}: ${thing.refused[0]} `, make("a", { href: `cell-check.html?pick=${thing.id}` }, "Check it anew"));
  const charge = make("a", { class: "button strong", href: `charge-settings.html?pick=${thing.id}` }, "Charge it");
  const buttons = Object.entries(STATES).map(([word, says]) => {
    const button = makeButton(says, async () => {
      if (isSecondTap()) return;
      await own.noteState(thing.id, word);
      added = { pack: thing.id, line: own.newId() };
      await keepLine(thing.id, { id: added.line, entries: { day: lineDay(Date.now()), kind: LOGGED_AS[word] }, note: "" });
      again();
      place.querySelector(`[data-state="${word}"]`).focus();
    }, { "data-state": word, "aria-pressed": thing.state?.[0] === word });
    return button;
  });
  const dates = measuredOf(thing).map((words) => make("li", {}, words));
  const { balance_plugs: plugs, first_plug_cells: first } = thing.entries;
  return [
    ...(plugs === "2" ? [make("p", {}, `Two balance plugs: the first, at the minus end, has ${first}\u00a0cells.`)] : []),
    state,
    ...(dates.length ? [make("ul", { class: "own-dates" }, ...dates)] : []),
    ...(thing.refused ? [] : [charge]),
    make("div", { class: "own-states", role: "group", "aria-labelledby": "own-left" }, make("p", { id: "own-left" }, "How it was left:"), ...buttons),
    ...(added?.pack === thing.id ? [make("p", { class: "own-others", role: "status" }, "It is a line in the log. ", make("a", { href: here(`?log=${thing.id}&line=${added.line}`) }, "Add to the line"))] : []),
    make("ul", { class: "to-do" }, ...waysOn(thing, here).map(([href, words, says]) => make("li", {}, make("a", { href }, make("b", {}, words), " ", make("span", {}, says))))),
  ];
}

function aboutBattery(thing, place) {
  const buttons = Object.entries({ used: "Used", filled: "Filled up" }).map(([word, says]) =>
    makeButton(says, async () => {
      await own.note("supply", thing.id, { state: [word, Date.now()] });
      place.querySelector(`[data-state="${word}"]`)?.focus();
    }, { "data-state": word, "aria-pressed": thing.state?.[0] === word }),
  );
  return [
    make("p", { class: "own-state" }, stateOf(thing) || "How it was left is not known."),
    make("div", { class: "own-states", role: "group", "aria-labelledby": "own-left" }, make("p", { id: "own-left" }, "How it was left:"), ...buttons),
  ];
}

const waysOn = ({ id }, here) => [
  [here(`?log=${id}`), "Log", countOf(linesOf(id))],
  [`ageing.html?pick=${id}`, "How it ages", "what is left in it"],
  [`cell-check.html?pick=${id}`, "Check the cells", "verdict"],
  [`storage.html?pick=${id}`, "To storage", "how, and when to stop"],
  [`save-and-share.html?code=${id}`, "Share it", "a code and a link"],
];
