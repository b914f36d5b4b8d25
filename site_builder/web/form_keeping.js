// Keeps what is entered in the form, and the answer to it, once the pilot pauses: on the phone, and the entries in the address too.
// What came with a link stands in the address alone until it is taken over.

import { carry, queryOf, writeQuery } from "./address.js";
import { entriesOf } from "./entry_fields.js";
import { keepAnswer } from "./kept_answers.js";
import { keep } from "./kept_entries.js";
import * as readings from "./readings.js";

// A browser draws its bar anew for each address, and a phone writes slowly: neither comes between two keys.
const PAUSE_MS = 250;
const AGAIN_MS = 1_000; // where the address could not be written

let pause = null; // runs until the pilot pauses
let sheet; // what form.js knows of the form: {form, isOwn, isLink}
let answered = null; // what is still to be kept: the entries of an answer, and the answer

export function begin(of, leaving) {
  sheet = of;
  answered = null;
  leaving.addEventListener("abort", () => pause && keepAll()); // but not in the address, which may be the other page's by now
  for (const kind of ["pointerdown", "click"]) document.addEventListener(kind, settleNow, { capture: true, signal: leaving });
  document.addEventListener("visibilitychange", settleNow, { signal: leaving });
  addEventListener("pagehide", settleNow, { signal: leaving });
}

export function changed() {
  carry(query(), !sheet.isLink);
  settleLater();
}

export function settle() {
  keepAll();
  if (!writeQuery(query(), !sheet.isLink)) settleLater(AGAIN_MS);
}

/** An answer is on the screen first. */
export function answerCame(entries, answer) {
  answered = [entries, answer];
  if (!pause) setTimeout(keepItsAnswer);
}

const settleNow = () => pause && settle();

function settleLater(after = PAUSE_MS) {
  clearTimeout(pause);
  pause = setTimeout(settle, after);
}

function keepAll() {
  clearTimeout(pause);
  pause = null;
  const { form, isOwn, isLink } = sheet;
  if (!isLink) keep(isOwn ? entriesOf(form) : {}, form, readings.moments(form));
  keepItsAnswer();
}

function keepItsAnswer() {
  if (answered && !sheet.isLink) keepAnswer(sheet.form, ...answered);
  answered = null;
}

const query = () => (sheet.isOwn ? queryOf(entriesOf(sheet.form), readings.oldest(sheet.form)) : "");
