// What the engine is asked for the form that is open, what stands in the answer's place until it has answered, and what it said.

import * as place from "./answer_place.js";
import * as clocks from "./clocks.js";
import { wordsOf } from "./engine_words.js";
import { markProblems, questionOf } from "./entry_fields.js";
import * as keeping from "./form_keeping.js";
import { keptAnswer } from "./kept_answers.js";
import * as engine from "./live_engine.js";
import { judge, refusedHere } from "./own_picked.js";
import { packInRow, refusedRow } from "./own_rows.js";
import { make, makeButton } from "./page_parts.js";
import { markBoxes, putAsRead } from "./reading_boxes.js";
import { barred, noteAnswer } from "./refused_reading.js";
import { afterTap } from "./taps.js";
import { choices } from "./units.js";

const LATE_MS = 1_000;

let sheet = null; // what form.js knows of the form: {form, startsAs, isOwn}; none before the page is started
let asked; // the entries of the newest question, null if it was about the example, or undefined where no answer is waited for
let late; // runs until it is answered
const again = makeButton("Try again", tryAgain, { class: "again" });

/** Starts the engine for the page that has come, since that takes longest. */
export function wake(leaving) {
  sheet = null;
  engine.open(document.body.dataset.engine, { news, answered }, leaving);
}

export function begin(of, leaving) {
  sheet = of;
  offerToTryAgain();
  leaving.addEventListener("abort", () => {
    clearTimeout(late);
    sheet = null;
  });
}

export function answerTo(entries) {
  clearTimeout(late);
  if (!sheet.isOwn) return showExample();
  const refusal = refusedNow();
  if (refusal) return refuse(refusal);
  ask(entries);
  if (engine.engineState() !== "ready" || place.shows() === "example" || place.shows() === "kept") showMeanwhile(entries);
  else late = setTimeout(showMeanwhile, LATE_MS, entries); // else the answer of the entries before stands until the new one
}

export function beginWithoutEntries() {
  askForExample();
  sayWithoutEntries();
}

const refusedNow = () => refusedHere(sheet.form) ?? refusedRow(sheet.form);

/** A pack that was taken out of use gets no number, whatever is entered, and neither does one whose last reading was refused. */
function refuse(sentence) {
  asked = null; // an answer that comes late is to something else
  const link = make("a", { class: "go-to", href: "cell-check.html" }, "Open the cell check");
  const item = make("li", {}, sentence, " ", link);
  const refusal = make("div", { class: "refusal", role: "group", "aria-labelledby": "refusal-title" }, make("h3", { id: "refusal-title" }, "No numbers, because"), make("ul", {}, item));
  place.showAnswer({ kind: "refusal", html: refusal.outerHTML, summary: sentence });
}

function ask(entries) {
  asked = entries;
  engine.ask(sheet.form.dataset.calculator, entries ?? place.exampleEntries(sheet.startsAs), choices());
}

/** The example was built with each number in its own unit: for those it needs no answer, and one to the units before comes too late. */
function askForExample() {
  asked = undefined;
  if (engine.engineState() === "ready" && Object.keys(choices()).length > 0) ask(null);
}

/** Until the engine has answered: what it said last to these very entries, or nothing that has a number. */
function showMeanwhile(entries) {
  const last = keptAnswer(sheet.form, entries);
  const state = engine.engineState();
  if (last) return place.showKept(last, wordsOf(state, "lastAnswer"));
  if (state === "failed") return place.showFault();
  place.showWaiting();
  place.say(wordsOf(state, "entries"));
}

function showExample() {
  markProblems(sheet.form, {});
  place.showExample();
  beginWithoutEntries();
}

function sayWithoutEntries() {
  place.say(wordsOf(engine.engineState(), "noEntries"));
}

/** The engine has news of itself. A page that is just being started asks what it has missed. */
function news(state) {
  if (!sheet) return;
  offerToTryAgain();
  if (!sheet.isOwn) return beginWithoutEntries();
  if (state !== "ready") showMeanwhile(questionOf(sheet.form, sheet.startsAs)); // else the answer comes at once
}

function answered(answer) {
  const question = asked;
  afterTap(() => asked === question && heard(answer));
}

function heard(answer) {
  if (!sheet) return;
  const question = asked;
  clocks.look();
  if (asked !== question) return; // it rested on readings that are true no longer
  clearTimeout(late);
  const refusal = sheet.isOwn && refusedNow(); // found since it was asked
  if (refusal) return refuse(refusal);
  if (!sheet.isOwn) return asked === null && answer.kind === "answer" ? place.showExample(answer.html) : undefined;
  if (answer.kind === "fault") return place.showFault(answer.sentence);
  const isReadNew = putAsRead(sheet.form, answer.readings);
  markProblems(sheet.form, answer.problems);
  markBoxes(sheet.form);
  noteAnswer(sheet.form, answer);
  const because = barred(answer);
  if (because) return refuse(because);
  place.showAnswer(answer);
  judge(answer.standing, packInRow);
  if (answer.kind === "answer") keeping.answerCame(asked, answer);
  if (isReadNew) sheet.form.dispatchEvent(new CustomEvent("fieldslate:as-read"));
}

function offerToTryAgain() {
  if (engine.engineState() === "failed") document.getElementById("engine-state").after(again);
  else again.remove();
}

function tryAgain() {
  again.nextElementSibling.focus(); // the button goes
  engine.tryAgain();
}
