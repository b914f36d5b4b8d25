// On the page of a card: the button that starts it, or why there is none. Once started it stands at its first step, on the page of cards.

import { addressOf, beginCard, freeOutput, newId, runningCards } from "./card_kept.js";
import { shortLabelOf } from "./card_figures.js";
import { wakeSound } from "./card_sound.js";
import * as watch from "./card_watch.js";
import { look } from "./clocks.js";
import { keptEntries, measuredIn } from "./kept_entries.js";
import { picked } from "./own_kept.js";
import { pickedThing } from "./own_picked.js";
import { packsInRows } from "./own_rows.js";
import { labelOf } from "./own_words.js";
import { make, makeButton } from "./page_parts.js";
import { oneAtATime } from "./second_taps.js";
import { goTo } from "./travel.js";
import { entryText } from "./units.js";

const CANNOT_START = {
  example: "This is the club's example. Enter your own pack to start a card.",
  kept: "A card can be started as soon as the calculator is up.",
  waiting: "A card can be started as soon as your entries are answered.",
  partial: "A card can be started once the pack has been read.",
  refusal: "There is no card for these entries: the reason is below.",
  fault: "This could not be worked out, so there is no card to start.",
};
const FROM_LINK = "These entries came with a link: use them above, and a card can be started.";
const KNOWN_READINGS = "These readings have started the card that runs: ";
const MEASURE_NEXT = ". Measure the next pack, and enter what you read.";

const offer = make("div", { class: "card-offer" });

let form, answer, body;
let begin; // a second tap starts no second card
let isAnswered; // what is shown answers what stands in the form
let startsAtOnce = null; // the page of the card that a tap on "Start" has asked for, elsewhere

document.addEventListener("click", ({ target }) => {
  const link = target.closest?.("a[data-start-card]");
  startsAtOnce = link ? link.pathname : null;
});

export function start(leaving) {
  [form, answer, body] = ["entries", "answer", "answer-body"].map((id) => document.getElementById(id));
  isAnswered = true;
  begin = oneAtATime(beginCardNow);
  document.addEventListener("fieldslate:entries", entriesChanged, { signal: leaving }); // before the answer, which may come at once
  document.addEventListener("fieldslate:answer", answered, { signal: leaving });
  document.addEventListener("fieldslate:cards", show, { signal: leaving });
  document.getElementById("card-controls").replaceChildren(offer);
  show();
}

function entriesChanged() {
  isAnswered = false;
  show();
}

function answered({ detail: { kind } }) {
  isAnswered = true;
  show();
  if (startsAtOnce !== location.pathname || ["kept", "waiting"].includes(kind)) return;
  startsAtOnce = null;
  if (!reasonAgainst()) begin();
}

function show() {
  for (const field of body.querySelectorAll(":is(.step input, .step textarea)")) field.disabled = true;
  const reason = reasonAgainst();
  const button = makeButton("Start this card", begin, { class: "button strong" });
  button.disabled = !isAnswered;
  offer.replaceChildren(reason ? make("p", {}, ...[reason].flat()) : button);
}

function reasonAgainst() {
  const { state, mayStart } = answer.dataset;
  if (state in CANNOT_START && !(state === "partial" && mayStart !== undefined)) return CANNOT_START[state];
  if (form?.dataset.from === "link") return FROM_LINK;
  const other = changesPack() && runningCards().find(({ readings }) => readings === readingsNow());
  return other && [KNOWN_READINGS, make("a", { href: addressOf(other) }, other.name || other.title), MEASURE_NEXT];
}

const changesPack = () => form !== null && !("keepsPack" in form.dataset);

/** The readings with their moments, one pack's and of one time, in an order that is the same on every page. */
function readingsNow() {
  const entries = keptEntries();
  const names = measuredIn(form).map(({ name }) => name);
  return JSON.stringify(names.sort().map((name) => entries.get(name) ?? null));
}

/** Returns the packs of one's own that the card is about, each with its name, what was read of it, and its label. */
function packsHere() {
  const alone = pickedThing("pack");
  const mine = alone ? [{ pack: alone, row: "" }] : packsInRows().map(({ number, pack }) => ({ pack, row: `packs_${number}_` }));
  return mine.map(({ pack, row }) => ({ id: pack.id, name: pack.name, read: readOf(row), label: labelOf(pack) }));
}

/** What was read of a pack before, as a line of its log calls it. */
function readOf(row) {
  const read = { from_v: form.elements.namedItem(`${row}resting_v`), line_degc: form.elements.namedItem(`${row}pack_degc`) };
  return Object.fromEntries(Object.entries(read).filter(([, field]) => field?.value).map(([name, field]) => [name, entryText(field)]));
}

const titleOf = (heading) => heading.replace(/^Card: (.)/, (_, first) => first.toUpperCase());

/** A card is on the disk before it is begun with. */
async function beginCardNow() {
  look(); // a reading may have grown too old since the answer
  if (!isAnswered) return;
  wakeSound(); // while the browser still knows of the tap
  const started = Date.now();
  const packs = form ? packsHere() : [];
  const card = {
    id: newId(started),
    page: document.body.dataset.page,
    title: titleOf(document.querySelector("h1").textContent),
    name: packs.map(({ name }) => name).join(", "),
    packs: packs.map(({ name: _, ...pack }) => pack),
    isOfSeveral: Boolean(form?.elements.namedItem("packs_1_chemistry")),
    label: form ? shortLabelOf(form, body) : "",
    output: changesPack() ? freeOutput(pickedThing("charger") ? picked().output : "") : null,
    started,
    html: body.innerHTML,
    ticked: [],
    times: {},
    notes: {},
    counts: {},
    timers: {},
    silent: false,
    changesPack: changesPack(),
    readings: changesPack() ? readingsNow() : "",
    supply: (changesPack() && pickedThing("supply")?.id) || "",
    logs: answer.dataset.logs ?? "",
  };
  await beginCard(card);
  watch.cardsChanged();
  if (document.body.dataset.page === card.page) await goTo(addressOf(card)); // else the page was left meanwhile: the bar leads to it
}
