// A card in progress: frozen as it was started, ticked step by step, kept on the phone until the pilot ends it.

import { makeEnd, makeRecord } from "./card_end.js";
import { beginCard, cardHere, forgetCard, keepCard, runningCard } from "./card_kept.js";
import * as offering from "./card_offer.js";
import { screenLine } from "./card_screen.js";
import { makeSoundControls, wakeSound } from "./card_sound.js";
import { makeTimers } from "./card_timer.js";
import * as watch from "./card_watch.js";
import { look } from "./clocks.js";
import { at, make, makeButton, write } from "./page_parts.js";
import { trustedHtml } from "./trusted.js";

const locked = make("p", { class: "entries-locked" }, "The entries are locked while the card runs. End the card to change them.");
const ended = make("div", { class: "card-ended" });

let form, answer, title, about, controls, body;
let changes = 0; // of steps, counted
let html; // of the card that runs, as it was started

export function start(leaving) {
  [form, answer, title, about, controls, body] = ["entries", "answer", "answer-title", "answer-about", "card-controls", "answer-body"].map(
    (id) => document.getElementById(id),
  );
  offering.take(begin, leaving);
  document.addEventListener("fieldslate:card-elsewhere", changedElsewhere, { signal: leaving });
  leaving.addEventListener("abort", leavePage);
  body.addEventListener("input", stepChanged);
  ended.replaceChildren();
  controls.replaceChildren(ended, offering.offer);
  offering.show();
  if (cardHere()) run();
}

function leavePage() {
  delete document.body.dataset.cardRunning;
  watch.showAtEachBeat(() => {});
}

function changedElsewhere() {
  if (cardHere()) return run();
  if (!document.body.dataset.cardRunning) return offering.show();
  leave();
  ended.replaceChildren(make("p", { role: "status" }, "The card was ended in another tab."));
}

// Before it runs

/** A card is on the disk before it is begun with. */
async function begin() {
  look(); // a reading may have grown too old since the answer
  if (!offering.answersEntries()) return;
  const which = { page: document.body.dataset.page, title: document.querySelector("h1").textContent };
  wakeSound(); // while the browser still knows of the tap
  const isKept = await beginCard({ ...which, started: Date.now(), html: body.innerHTML, ticked: [], notes: {}, timers: {}, silent: false });
  if (!cardHere()) return; // the page was left meanwhile: the line above the bar leads back
  run();
  sayKept(isKept);
  title.focus();
  document.dispatchEvent(new CustomEvent("fieldslate:card"));
}

// While it runs

const fields = () => [...body.querySelectorAll(".step input, .step textarea")];
const ticks = () => fields().filter(({ type }) => type === "checkbox");
const keyOf = (field) => field.closest(".step").dataset.step;
// A tick counts once it is on the disk.
const openTicks = () => ticks().filter((box) => !box.checked || "keeping" in box.closest(".step").dataset);

function run() {
  const card = runningCard();
  document.body.dataset.cardRunning = "yes"; // form.js leaves the answer alone
  lockEntries(true);
  answer.dataset.state = "answer";
  title.textContent = "Your card";
  about.textContent = `Started at ${at(card.started)}. It stays as it was started, until you end it.`;
  fillIn(card);
  controls.replaceChildren(
    make("p", { class: "card-next", role: "status" }),
    makeButton("Go to this step", () => openTicks()[0].focus(), { class: "button card-go" }),
    makeSoundControls(card, keep),
    screenLine,
    make("p", { class: "card-not-kept", role: "status" }),
    makeEnd(() => openTicks().length, finish),
  );
  showNext();
  watch.showAtEachBeat(makeTimers(card, body, keep));
  watch.cardChanged();
}

/** Entries that stand on another page may change: the card stays as it was started. */
function lockEntries(isLocked) {
  if (!form || form.hidden) return;
  form.inert = isLocked;
  if (isLocked) form.before(locked);
  else locked.remove();
}

function fillIn(card) {
  body.innerHTML = trustedHtml((html = card.html));
  for (const field of fields()) {
    field.disabled = false;
    if (field.type === "checkbox") field.checked = card.ticked.includes(keyOf(field));
    else field.value = card.notes[keyOf(field)] ?? "";
  }
}

async function stepChanged({ target }) {
  const card = runningCard();
  if (target.type === "checkbox") card.ticked = ticks().filter(({ checked }) => checked).map(keyOf);
  else card.notes[keyOf(target)] = target.value;
  const { dataset } = target.closest(".step");
  const mine = (dataset.keeping = String((changes += 1)));
  await keep();
  if (dataset.keeping === mine) delete dataset.keeping;
  if (body.contains(target)) showNext();
}

function showNext() {
  const [open] = openTicks();
  const step = open?.closest(".step");
  body.querySelector(".step[aria-current]")?.removeAttribute("aria-current");
  step?.setAttribute("aria-current", "step");
  const position = `${ticks().indexOf(open) + 1} of ${ticks().length}`;
  write(controls.querySelector(".card-next"), step ? `Next: ${step.querySelector(".step-title").textContent}, ${position}` : "Every step is ticked.");
  controls.querySelector(".card-go").hidden = !step;
}

const keep = async () => sayKept(await keepCard());

function sayKept(isKept) {
  const line = controls.querySelector(".card-not-kept");
  if (!line) return; // it has ended meanwhile
  const words = isKept ? "" : "This phone keeps nothing now: the card will not survive a reload. Leave this page open.";
  write(line, words);
}

// Its end

function finish() {
  const record = makeRecord(runningCard(), body);
  forgetCard();
  leave();
  ended.replaceChildren(record);
  record.querySelector("h3").focus();
}

function leave() {
  watch.showAtEachBeat(() => {});
  watch.cardChanged();
  body.innerHTML = trustedHtml(html);
  offering.noteEnd();
  lockEntries(false);
  title.textContent = "Your card has ended";
  about.textContent = "";
  ended.replaceChildren();
  controls.replaceChildren(ended, offering.offer);
  if (form) answer.dataset.state = "waiting"; // until form.js has it answered anew
  offering.show();
  delete document.body.dataset.cardRunning;
  document.dispatchEvent(new CustomEvent("fieldslate:card"));
}
