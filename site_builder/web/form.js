// The entries of a calculator: filled in from the address or the phone, followed as they change, and given to form_asking.js and
// form_keeping.js. It moves strings only. What a number is, Python says. It is long because all that a change of an entry leads to is told in
// one place, in its order.
/* eslint-disable max-lines */

import * as address from "./address.js";
import * as place from "./answer_place.js";
import { askWhatApplies, builtValues, fillIn, fold, questionOf, unfoldEntry } from "./entry_fields.js";
import * as asking from "./form_asking.js";
import * as keeping from "./form_keeping.js";
import { startOf } from "./form_start.js";
import { beforeClearing } from "./form_undo.js";
import { answerOf, forgetAnswers, forgetOtherEngines } from "./kept_answers.js";
import { sayFromLink, sayNoLink } from "./link_entries.js";
import { layBoxes } from "./reading_boxes.js";
import { listenToBoxes } from "./reading_keys.js";
import * as readings from "./readings.js";
import { foldReadings } from "./readings_line.js";
import { forgetRefused } from "./refused_reading.js";
import { removeRow } from "./row_removed.js";
import { makeRows } from "./rows.js";
import { offerUnits, setEntry } from "./units.js";

let form;
// startsAs: what each field was built with, by name; isOwn: whether anything was entered, or the example still stands; isLink: whether a
// link brought it, and it is not this phone's
let sheet = {};
let startsAs;
let isTyped; // whether anything was, though it may be what the form starts with: a pack like the example's is still the pilot's

/** Starts the engine for the page that has come, and returns what of the store `start` needs. */
export function wake(leaving) {
  asking.wake(leaving);
  return answerOf(document.getElementById("entries").dataset.calculator);
}

export function start(leaving) {
  form = document.getElementById("entries");
  makeRows(form);
  startsAs = builtValues(form);
  place.take();
  forgetOtherEngines();
  sheet = { form, startsAs, isOwn: false, isLink: false };
  asking.begin(sheet, leaving);
  keeping.begin(sheet, leaving);
  restore(Object.keys(startsAs).filter((name) => form.elements[name].value !== startsAs[name])); // typed before this script came
  listen(leaving);
  offerUnits(document);
  foldReadings(form, leaving);
  if (sheet.isOwn) changed();
  else asking.beginWithoutEntries();
}

function listen(leaving) {
  listenToBoxes(form);
  form.addEventListener("input", ({ target }) => {
    if (target.closest("#answer")) return; // it has fields of its own
    if (target.name) readings.note(target);
    isTyped = true;
    entered();
  });
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.type !== "text" || !event.target.closest(".entry")) return; // a form with several fields has no submission of its own
    event.preventDefault();
    place.focus();
  });
  form.addEventListener("click", ({ target }) => {
    const button = target.closest("[data-remove]");
    if (!button) return;
    removeRow(form, button, startsAs);
    moved();
  });
  if (!form.hidden) listenToActions();
  document.addEventListener("fieldslate:units", changed, { signal: leaving });
  form.addEventListener("fieldslate:as-read", changed);
  form.addEventListener("fieldslate:undone", moved);
  document.addEventListener("fieldslate:look", lookAtReadings, { signal: leaving });
  document.getElementById("try-example").addEventListener("click", takeExample);
  document.addEventListener("click", unfoldEntry, { signal: leaving });
}

function listenToActions() {
  form.querySelector(".form-actions").hidden = false;
  document.getElementById("next-pack").addEventListener("click", () => clear(form.querySelectorAll("[data-clears] [name]"), "This pack is cleared."));
  document.getElementById("clear-all").addEventListener("click", () => {
    clear(form.querySelectorAll("[name]"), "Everything is cleared.");
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
  layBoxes(form);
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
  place.takeAway();
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
  layBoxes(form);
  const now = questionOf(form, startsAs);
  sheet.isOwn = Object.entries(startsAs).some(([name, text]) => (now[name] ?? "") !== text) || (isTyped && place.isForAll());
  asking.answerTo(now);
  keeping.changed(); // the engine works meanwhile
}

function clear(fields, words) {
  const offerUndo = beforeClearing(form, fields);
  for (const field of fields) setEntry(field, startsAs[field.name]);
  isTyped = false;
  forgetRefused();
  entered();
  fold(form, startsAs);
  form.querySelector(".form-actions").open = false;
  form.querySelector(".taps button, .entry:not([hidden]) [name]").focus();
  offerUndo(words);
  document.getElementById("undo").scrollIntoView({ block: "nearest" });
}

/** Entries came back, or moved from row to row. */
function moved() {
  isTyped = true;
  entered();
  fold(form, startsAs);
}
