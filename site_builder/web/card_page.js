// The page of cards: what runs, each with its numbers and the time left on top, what has just ended, and the records.

import { makeChanged } from "./card_changed.js";
import { makeEnd, shownEnds } from "./card_end.js";
import { addressOf, cardOf, endedCards, keepCards, nameOf, runningCards } from "./card_kept.js";
import * as line from "./card_line.js";
import { makeOutput } from "./card_output.js";
import { keptRecords, RECORDS, shownRecord } from "./card_records.js";
import { screenLine } from "./card_screen.js";
import { makeSoundControls } from "./card_sound.js";
import { showSteps } from "./card_steps.js";
import { makeStrip } from "./card_strip.js";
import { timeLeft } from "./card_time.js";
import * as watch from "./card_watch.js";
import { atOnDay, make, write } from "./page_parts.js";
import { parsed } from "./trusted.js";

export { RECORDS };

let place; // of what runs
let lastOpen = null; // the card that was open here last
let parts = null; // of the card that is open: {id, changed, steps, strip}

export function start(leaving) {
  place = document.getElementById("running-cards");
  parts = null;
  line.begin(leaving);
  document.addEventListener("fieldslate:cards", () => show(), { signal: leaving });
  document.addEventListener("fieldslate:own", () => parts?.changed.show(), { signal: leaving });
  leaving.addEventListener("abort", () => {
    watch.showAtEachBeat(() => {});
    delete document.body.dataset.cardRunning;
  });
  const asked = new URLSearchParams(location.search).get("card");
  show(asked);
  watch.showAtEachBeat(showTimes);
  if (asked && parts?.id === asked) parts.steps.focus();
}

/** Shows the card of that name, or else that which was open last. */
function show(asked) {
  const cards = runningCards();
  const card = cardOf(asked) ?? cardOf(parts?.id) ?? cardOf(lastOpen) ?? cards[0] ?? null;
  if (card) {
    const goOn = card.id === parts?.id ? whereOneIs() : () => {};
    document.body.dataset.cardRunning = "yes";
    lastOpen = card.id;
    open(card, cards);
    goOn();
  } else {
    delete document.body.dataset.cardRunning;
    parts = null;
    place.replaceChildren(shownEnds(focusNow));
  }
  document.getElementById("all-cards").open = !card;
  showRecords();
}

/** Returns what brings the focus and what is unfolded back, where the card that is open is made anew. */
function whereOneIs() {
  const { activeElement } = document;
  const [isHere, isUnfolded] = [place.contains(activeElement), place.querySelector(".card-foot").open];
  return () => {
    place.querySelector(".card-foot").open = isUnfolded;
    const same = activeElement.id && document.getElementById(activeElement.id);
    if (isHere && same) same.focus({ preventScroll: true });
    else if (isHere) parts.steps.focus();
  };
}

const focusNow = (id) => {
  show(id);
  parts?.steps.focus();
};

function open(card, cards) {
  const body = bodyOf(card);
  const steps = make("div", {});
  const strip = makeStrip(card, body);
  const changed = makeChanged(card);
  const end = makeEnd(card.id, () => show());
  place.replaceChildren(
    ...(cards.length > 1 ? [tabs(cards, card)] : []),
    strip.part,
    changed.part,
    shownEnds(focusNow),
    steps,
    ...notCountedIn(body),
    ...stopsOf(body),
    make(
      "details",
      { class: "card-foot" },
      make("summary", {}, card.output ? "Output, sound, end of this card" : "Sound, end of this card"),
      ...makeOutput(card.id, () => show()),
      makeSoundControls(card, keepCards),
      screenLine,
      end.part,
    ),
    paper(card),
  );
  parts = { id: card.id, changed, strip, steps: showSteps(steps, card.id, body, end.makeLast) };
  watch.beat();
}

function tabs(cards, opened) {
  const links = cards.map((card) => {
    const words = [make("span", {}, nameOf(card)), make("span", { class: "time-left", role: "timer", "aria-live": "off", "data-card-id": card.id })];
    return make("li", {}, make("a", { href: addressOf(card), ...(card === opened && { "aria-current": "page" }) }, ...words));
  });
  return make("nav", { class: "card-tabs", "aria-label": "Running cards" }, make("ul", {}, ...links));
}

function showTimes() {
  for (const time of place.querySelectorAll(".card-tabs .time-left")) write(time, timeLeft(cardOf(time.dataset.cardId) ?? { timers: {} })?.words ?? "");
  if (!parts || !cardOf(parts.id)) return;
  parts.strip.show();
  parts.steps.showTimes();
}

const bodyOf = (card) => parsed(card.html).body;

/** What the card's numbers do not count, where charger or supply was not entered. */
function notCountedIn(body) {
  const boxes = Array.from(body.querySelectorAll(".not-counted"), (box) => box.cloneNode(true));
  for (const link of boxes.flatMap((box) => [...box.querySelectorAll("ul")])) link.remove(); // the entries are on another page
  return boxes;
}

/** What ends the job at once, and what was cautioned of: all that is no step and no figure of one. */
function stopsOf(body) {
  const lists = [...body.querySelectorAll(".cautions")].filter((list) => list.children.length && !list.closest(".step-group"));
  if (!lists.length) return [];
  return [make("details", { class: "card-stops" }, make("summary", {}, "Stop at once if…"), ...lists.map((list) => list.cloneNode(true)))];
}

/** The whole card, with its ticks and notes, which comes on paper alone. */
function paper(card) {
  const sheet = bodyOf(card);
  for (const step of sheet.querySelectorAll(".step")) {
    const { step: key } = step.dataset;
    step.querySelector(".tick input").toggleAttribute("checked", card.ticked.includes(key));
    const note = step.querySelector("textarea");
    if (note) note.textContent = card.notes[key] ?? "";
    step.append(...line.typedInWords(card, (name) => line.namesIn(step).includes(name)).map((words) => make("p", {}, words)));
  }
  for (const named of sheet.querySelectorAll("[id], [for], [aria-labelledby]")) for (const one of ["id", "for", "aria-labelledby"]) named.removeAttribute(one);
  const whose = [card.name, card.label].filter(Boolean).join(", ");
  const output = card.output ? [make("p", {}, `Output ${card.output}`)] : [];
  const head = make("div", { class: "paper-head" }, make("p", {}, make("b", {}, card.title)), make("p", {}, "Pack ", whose ? make("b", {}, whose) : make("i", { class: "box" }), ` Started ${atOnDay(card.started)}`), ...output);
  return make("div", { class: "card-paper", inert: "" }, head, make("div", { class: "paper-body" }, ...sheet.childNodes));
}

function showRecords() {
  const justEnded = endedCards().map(({ card }) => card.id);
  const records = keptRecords().filter(({ id }) => !justEnded.includes(id)); // those stand above
  const section = document.getElementById("card-records");
  section.hidden = !records.length;
  const [heading] = section.children;
  section.replaceChildren(heading, ...records.map((record) => shownRecord(record, false)));
}
