// The entries of a calculator: kept in the address and on the phone, asked of the engine, and answered in the answer's place.
// It moves strings only. What a number is, Python says.

import * as address from "./address.js";
import * as place from "./answer_place.js";
import { cardHere } from "./card_kept.js";
import * as clocks from "./clocks.js";
import { wordsOf } from "./engine_words.js";
import { askWhatApplies, builtValues, entriesOf, fillIn, fold, markProblems, unfoldEntry } from "./entry_fields.js";
import * as keeping from "./form_keeping.js";
import { startOf } from "./form_start.js";
import { answerOf, forgetAnswers, forgetOtherEngines, keptAnswer } from "./kept_answers.js";
import { spend } from "./kept_entries.js";
import { sayFromLink, sayNoLink } from "./link_entries.js";
import * as engine from "./live_engine.js";
import { hasSteps } from "./page_parts.js";
import * as readings from "./readings.js";
import { makeRows } from "./rows.js";
import { choices, offerUnits, setEntry } from "./units.js";

const LATE_MS = 1_000;

let form = null; // none before it is started
// isOwn: whether anything was entered, or the example still stands; isLink: whether a link brought it, and it is not this phone's
let sheet = {};
let startsAs; // name -> what its field was built with
let isCard; // whether this page is a card
let isTyped; // whether anything was, though it may be what the form starts with: a pack like the example's is still the pilot's
let asked; // the entries of the newest question, or null if it was about the example
let late; // runs until it is answered

/** Starts the engine for the page that has come, since that takes longest, and returns what of the store `start` needs. */
export function wake(leaving) {
  form = null;
  engine.open(document.body.dataset.engine, heard, leaving);
  return answerOf(document.getElementById("entries").dataset.calculator);
}

export function start(leaving) {
  form = document.getElementById("entries");
  makeRows(form);
  startsAs = builtValues(form);
  isCard = hasSteps();
  place.take();
  forgetOtherEngines();
  sheet = { form, isOwn: false, isLink: false };
  keeping.begin(sheet, leaving);
  restore(Object.keys(startsAs).filter((name) => form.elements[name].value !== startsAs[name])); // typed before this script came
  listen(leaving);
  offerUnits(document);
  if (sheet.isOwn) return changed();
  askForExample();
  sayWithoutEntries();
}

function listen(leaving) {
  leaving.addEventListener("abort", () => {
    clearTimeout(late);
    form = null;
  });
  form.addEventListener("input", ({ target }) => {
    if (target.name) readings.note(target);
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
  document.addEventListener("fieldslate:look", lookAtReadings, { signal: leaving });
  document.getElementById("try-example").addEventListener("click", takeExample);
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

/** Fills the form from the address, or else from the phone, but for the fields that `stay`. */
function restore(stay) {
  const { values, isLink, old, moments } = startOf(form, startsAs);
  const fixed = Array.from(form.querySelectorAll("[data-fixed]"), ({ name }) => name);
  const isKnown = fillIn(form, values, [...old, ...stay, ...fixed]);
  readings.begin(form, moments);
  for (const name of stay) readings.note(form.elements[name]);
  Object.assign(sheet, { isOwn: isKnown || stay.length > 0, isLink });
  isTyped = sheet.isOwn;
  askWhatApplies(form, startsAs);
  fold(form, startsAs);
  sayOld(old.length > 0);
  if (isLink) sayFromLink(form, useLink, backToMine);
  else sayNoLink(form);
}

const sayOld = (areOld) => (document.getElementById("measure-again").hidden = !areOld);

function useLink() {
  sheet.isLink = false;
  sayNoLink(form);
  entered();
  keeping.settle();
  place.focus();
}

function backToMine() {
  address.writeQuery("", true);
  for (const field of form.querySelectorAll("[name]")) field.value = startsAs[field.name];
  restore([]);
  entered();
}

/** The club's entries are put into the form by the pilot, now: so they have a moment, as what is typed has. */
function takeExample({ currentTarget }) {
  const { search } = currentTarget;
  currentTarget.search = address.queryOf(new URLSearchParams(search), Date.now());
}

/** Takes away what is true no longer, and the answer that came of it; a page that nobody sees leaves the saying so to the next one. */
function lookAtReadings() {
  if (document.hidden || !takeAwayOld()) return;
  if (!cardRuns()) place.takeAway();
  entered();
}

function takeAwayOld() {
  const wereOld = readings.takeAwayOld(form);
  if (wereOld) sayOld(true);
  return wereOld;
}

/** The pilot has changed the entries: what stands in the answer's place answers others, until the engine has spoken. */
function entered() {
  document.dispatchEvent(new CustomEvent("fieldslate:entries"));
  changed();
}

function changed() {
  askWhatApplies(form, startsAs);
  const now = entriesOf(form);
  sheet.isOwn = Object.entries(startsAs).some(([name, text]) => (now[name] ?? "") !== text) || (isTyped && place.isForAll());
  clearTimeout(late);
  answerTo(now);
  keeping.changed(); // the engine works meanwhile
}

function answerTo(now) {
  if (cardRuns()) return sayWithoutEntries();
  if (!sheet.isOwn) return showExample();
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

// A card that has ended has often changed the pack and the battery: what was measured before is true no longer.
function cardChanged() {
  if (!cardRuns() && !("keepsPack" in form.dataset)) {
    spend(form);
    takeAwayOld(); // at once: an engine that is not up yet would leave the last answer to these readings standing
  }
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
  if (!form) return; // the page is just being started, and asks what it has missed
  const question = asked;
  if (message.id) clocks.look();
  if (asked !== question) return; // it rested on readings that are true no longer
  if (message.id) clearTimeout(late);
  if (cardRuns()) return message.id ? undefined : sayWithoutEntries();
  if (!sheet.isOwn) return heardWithoutEntries(message);
  if (message.kind === "ready") return;
  if (!message.id) return showMeanwhile(entriesOf(form));
  if (message.kind === "fault") return place.showFault(message.sentence);
  markProblems(form, message.problems);
  place.showAnswer(message);
  if (message.kind === "answer") keeping.answerCame(asked, message);
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
