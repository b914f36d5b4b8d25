// The entries of a calculator: kept in the address and on the phone, asked of the engine, and answered in the answer's place.
// It moves strings only. What a number is, Python says.

import * as place from "./answer_place.js";
import * as engine from "./live_engine.js";
import { askWhatApplies, builtValues, entriesOf, fillIn, fold, markProblems, unfoldEntry } from "./entry_fields.js";
import { wordsOf } from "./engine_words.js";
import { cardHere } from "./card_kept.js";
import { hasSteps } from "./page_parts.js";
import { makeRows } from "./rows.js";
import { forgetAnswers, keepAnswer, keptAnswer } from "./kept_answers.js";
import { keep, kept, outOfDate, spend } from "./kept_entries.js";
import { choices, offerUnits, setEntry } from "./units.js";

const LATE_MS = 1_000;
// A browser draws its bar anew for each address, and a phone writes slowly: neither comes between two keys.
const PAUSE_MS = 250;

let form;
let startsAs; // name -> what its field was built with
let isCard; // whether this page is a card
let isOwn; // whether anything was entered, or the example still stands
let isTyped; // the same, though it may be what the form starts with: a pack like the example's is still the pilot's
let asked; // the entries of the newest question, or null if it was about the example
let late; // runs until it is answered
let answered; // what is still to be kept: the form, its entries, and the answer to them
let pause; // runs until the pilot pauses: what is entered, and the answer to it, is kept then

export function start(leaving) {
  engine.open(document.body.dataset.engine, heard, leaving); // first, since it takes longest
  form = document.getElementById("entries");
  makeRows(form);
  startsAs = builtValues(form);
  isCard = hasSteps();
  place.take();
  forgetAnswers(document.body.dataset.engine);
  restore();
  listen(leaving);
  offerUnits(document);
  if (isOwn) return changed();
  askForExample();
  sayWithoutEntries();
}

function listen(leaving) {
  leaving.addEventListener("abort", () => {
    clearTimeout(late);
    if (pause) keepAll(); // but not in the address, which may be the other page's by now
  });
  const settleNow = () => pause && settle();
  for (const kind of ["pointerdown", "click"]) document.addEventListener(kind, settleNow, { capture: true, signal: leaving });
  document.addEventListener("visibilitychange", settleNow, { signal: leaving });
  addEventListener("pagehide", settleNow, { signal: leaving });
  form.addEventListener("input", () => {
    isTyped = true;
    entered();
  });
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.type !== "text") return; // a form with several fields has no submission of its own
    event.preventDefault();
    place.focus();
  });
  if (!form.hidden) listenToActions();
  document.addEventListener("fieldslate:card", cardChanged, { signal: leaving });
  document.addEventListener("fieldslate:units", changed, { signal: leaving });
  document.addEventListener("click", unfoldEntry, { signal: leaving });
}

function listenToActions() {
  form.querySelector(".form-actions").hidden = false;
  document.getElementById("next-pack").addEventListener("click", () => clear(form.querySelectorAll("[data-clears] [name]")));
  document.getElementById("clear-all").addEventListener("click", () => {
    clear(form.elements);
    forgetAnswers();
  });
}

function restore() {
  const fromAddress = Object.fromEntries(new URLSearchParams(location.search));
  const values = Object.keys(fromAddress).some((name) => name in startsAs) ? fromAddress : kept();
  const old = outOfDate(values, form);
  const typedEarly = Object.keys(startsAs).filter((name) => form.elements[name].value !== startsAs[name]);
  const fixed = Array.from(form.querySelectorAll("[data-fixed]"), ({ name }) => name); // a card's job decides, not the last entry
  const isKnown = fillIn(form, values, [...old, ...typedEarly, ...fixed]);
  isOwn = isTyped = isKnown || typedEarly.length > 0;
  askWhatApplies(form, startsAs);
  fold(form, startsAs);
  document.getElementById("measure-again").hidden = old.length === 0;
}

/** The pilot has changed the entries: what stands in the answer's place answers others, until the engine has spoken. */
function entered() {
  document.dispatchEvent(new CustomEvent("fieldslate:entries"));
  changed();
}

function changed() {
  askWhatApplies(form, startsAs);
  const now = entriesOf(form);
  isOwn = Object.entries(startsAs).some(([name, text]) => (now[name] ?? "") !== text) || (isTyped && place.isForAll());
  clearTimeout(late);
  answerTo(now);
  // The engine works meanwhile.
  for (const link of document.querySelectorAll("a[data-carry]")) link.search = queryOf(now);
  settleLater();
}

function settleLater() {
  clearTimeout(pause);
  pause = setTimeout(settle, PAUSE_MS);
}

function settle() {
  keepAll();
  writeAddress(queryOf(entriesOf(form)));
}

function keepAll() {
  clearTimeout(pause);
  pause = null;
  keep(isOwn ? entriesOf(form) : {}, form);
  keepItsAnswer();
}

function keepItsAnswer() {
  if (answered) keepAnswer(...answered);
  answered = null;
}

const queryOf = (entries) => (isOwn ? `?${new URLSearchParams(entries)}` : "");

function answerTo(now) {
  if (cardRuns()) return sayWithoutEntries();
  if (!isOwn) return showExample();
  if (engine.engineState() !== "failed") ask(now);
  if (engine.engineState() !== "ready" || place.shows() === "example" || place.shows() === "kept") showMeanwhile(now);
  else late = setTimeout(showMeanwhile, LATE_MS, now); // else the answer of the entries before stands until the new one
}

function ask(entries) {
  asked = entries;
  engine.ask(form.dataset.calculator, entries ?? place.exampleEntries(startsAs), choices());
}

/** The example was built with each number in its own unit. */
function askForExample() {
  if (engine.engineState() === "ready" && Object.keys(choices()).length > 0) ask(null);
}

/** Until the engine has answered: what it said last to these very entries, or nothing that has a number. */
function showMeanwhile(now) {
  const last = keptAnswer(form, now);
  const state = engine.engineState();
  if (last) return place.showKept(last, wordsOf(state, "lastAnswer"));
  if (state === "failed") return place.showFault();
  place.showWaiting();
  place.say(wordsOf(state, "entries"));
}

function writeAddress(query) {
  if (query === location.search) return;
  try {
    history.replaceState(history.state, "", query || location.pathname);
  } catch {
    // A browser may allow only so many in a minute. The phone keeps the entries, and the next one writes the address again.
  }
}

// A card that has ended has often changed the pack and the battery: what was measured before is true no longer.
function cardChanged() {
  if (!cardRuns() && !("keepsPack" in form.dataset)) spend(form);
  changed();
}

function clear(fields) {
  for (const field of fields) if (field.name) setEntry(field, startsAs[field.name]);
  isTyped = false;
  entered();
  fold(form, startsAs);
  form.querySelector("[name]").focus();
}

// What the engine says

function heard(message) {
  if (message.id) clearTimeout(late);
  if (cardRuns()) return message.id ? undefined : sayWithoutEntries();
  if (!isOwn) return heardWithoutEntries(message);
  if (message.kind === "ready") return;
  if (!message.id) return showMeanwhile(entriesOf(form));
  if (message.kind === "fault") return place.showFault(message.sentence);
  markProblems(form, message.problems);
  place.showAnswer(message);
  if (message.kind !== "answer") return;
  answered = [form, asked, message];
  if (!pause) setTimeout(keepItsAnswer); // it is on the screen first
}

function heardWithoutEntries(message) {
  if (message.id) return asked === null && message.kind === "answer" ? place.showExample(message.html) : undefined;
  askForExample();
  sayWithoutEntries();
}

function showExample() {
  markProblems(form, {});
  place.showExample();
  askForExample();
  sayWithoutEntries();
}

function sayWithoutEntries() {
  place.say(cardRuns() ? "Your card is running." : wordsOf(engine.engineState(), "noEntries"));
}

const cardRuns = () => isCard && cardHere() !== null;
