// A card in progress: frozen as it was started, ticked step by step, kept on the phone until the pilot ends it.

import { makeEnd, makeRecord } from "./card_end.js";
import { changedCard, forgetCard, keepCard, RUNNING_CARD } from "./card_kept.js";
import { at, make, makeButton, write } from "./card_parts.js";
import { keepScreenOn, letScreenGo } from "./card_screen.js";
import { makeSoundControls, startTimers, stopTimers, wakeSound } from "./card_timer.js";

const CANNOT_START = {
  example: "This is the club's example. Enter your own pack to start a card.",
  waiting: "A card can be started as soon as your entries are answered.",
  refusal: "There is no card for these entries: the reason stands below.",
  fault: "This could not be worked out, so there is no card to start.",
};
const PACK_HAS_CHANGED = "A card has ended, so the pack is not as it was: measure it and enter it anew to start another.";

const form = document.getElementById("entries");
const answer = document.getElementById("answer");
const title = document.getElementById("answer-title");
const about = document.getElementById("answer-about");
const controls = document.getElementById("card-controls");
const body = document.getElementById("answer-body");

const locked = make("p", { class: "entries-locked" }, "The entries are locked while the card runs. End the card to change them.");
const ended = make("div", { class: "card-ended" });
const offer = make("div", { class: "card-offer" });

let card = null; // { started, html, ticked, notes, timers, silent }: all that survives a reload
let answersEntries = true; // whether what is shown answers what stands in the form
let packHasChanged = false;

export function start() {
  form.addEventListener("input", entriesChanged, true); // before form.js, which may answer at once
  document.addEventListener("fieldslate:answer", () => {
    answersEntries = true;
    showOffer();
  });
  new MutationObserver(showOffer).observe(answer, { attributeFilter: ["data-state"] });
  body.addEventListener("input", stepChanged);
  addEventListener("storage", ({ key }) => (key === RUNNING_CARD || key === null) && follow());
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    follow(); // a page that slept has heard of nothing
    if (card) keepScreenOn(controls.querySelector(".card-screen"));
  });
  controls.replaceChildren(ended, offer);
  showOffer();
  follow();
}

/** Takes over what the phone has: after a reload the card that ran, later what another tab did with it. */
function follow() {
  const found = changedCard();
  if (found) {
    card = found;
    run();
  } else if (found === null && card) {
    leave();
    ended.replaceChildren(make("p", { role: "status" }, "The card was ended in another tab."));
  }
}

// Before it runs

function entriesChanged() {
  answersEntries = false;
  packHasChanged = false;
  showOffer();
}

function showOffer() {
  if (card) return;
  for (const field of fields()) field.disabled = true;
  const reason = CANNOT_START[answer.dataset.state] ?? (packHasChanged && PACK_HAS_CHANGED);
  const button = makeButton("Start this card", begin, { class: "button strong" });
  button.disabled = !answersEntries;
  offer.replaceChildren(reason ? make("p", {}, reason) : button);
}

function begin() {
  card = { started: Date.now(), html: body.innerHTML, ticked: [], notes: {}, timers: {}, silent: false };
  wakeSound();
  run();
  keep();
  title.focus();
  document.dispatchEvent(new CustomEvent("fieldslate:card"));
}

// While it runs

const fields = () => [...body.querySelectorAll(".step input, .step textarea")];
const ticks = () => fields().filter(({ type }) => type === "checkbox");
const keyOf = (field) => field.closest(".step").dataset.step;
const openTicks = () => ticks().filter(({ checked }) => !checked);

function run() {
  document.body.dataset.cardRunning = "yes"; // form.js leaves the answer alone
  form.inert = true;
  form.before(locked);
  answer.dataset.state = "answer";
  title.textContent = "Your card";
  about.textContent = `Started at ${at(card.started)}. It stays as it was started, until you end it.`;
  fillIn();
  const alarms = make("div", { class: "card-alarms" });
  controls.replaceChildren(
    make("p", { class: "card-next", role: "status" }),
    makeButton("Go to this step", () => openTicks()[0].focus(), { class: "button card-go" }),
    makeSoundControls(card, keep),
    make("p", { class: "card-screen" }),
    make("p", { class: "card-not-kept", role: "status" }),
    makeEnd(() => openTicks().length, finish),
    alarms,
  );
  showNext();
  startTimers(card, body, alarms, keep);
  keepScreenOn(controls.querySelector(".card-screen"));
}

function fillIn() {
  body.innerHTML = card.html;
  for (const field of fields()) {
    field.disabled = false;
    if (field.type === "checkbox") field.checked = card.ticked.includes(keyOf(field));
    else field.value = card.notes[keyOf(field)] ?? "";
  }
}

function stepChanged({ target }) {
  if (target.type === "checkbox") card.ticked = ticks().filter(({ checked }) => checked).map(keyOf);
  else card.notes[keyOf(target)] = target.value;
  keep();
  showNext();
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

function keep() {
  const words = keepCard(card) ? "" : "This browser keeps nothing: the card will not survive a reload. Leave this page open.";
  write(controls.querySelector(".card-not-kept"), words);
}

// Its end

function finish() {
  const record = makeRecord(card, body);
  forgetCard();
  leave();
  ended.replaceChildren(record);
  record.querySelector("h3").focus();
}

function leave() {
  stopTimers();
  letScreenGo();
  body.innerHTML = card.html;
  card = null;
  packHasChanged = true;
  form.inert = false;
  locked.remove();
  title.textContent = "Your card has ended";
  about.textContent = "";
  ended.replaceChildren();
  controls.replaceChildren(ended, offer);
  answer.dataset.state = "waiting"; // until form.js has it answered anew
  showOffer();
  delete document.body.dataset.cardRunning;
  document.dispatchEvent(new CustomEvent("fieldslate:card"));
}
