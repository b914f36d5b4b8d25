// The last answer of each calculator on this phone, for the time before the engine is up. It is found by the exact entries, the
// units, and the engine that worked it out: for others, for measured values that are out of date, or in another version there is none.

import { isOutOfDate } from "./kept_entries.js";
import { choices } from "./units.js";

const KEY = "fieldslate.answer "; // then the engine's folder and the calculator

export function keepAnswer(form, entries, { html, summary }) {
  try {
    localStorage.setItem(keyOf(form), JSON.stringify({ entries: asText(entries), html, summary, moment: Date.now() }));
  } catch {
    // Where the browser refuses storage, or has no room, the next visit waits for the engine.
  }
}

/** Returns the answer {html, summary, moment} that these entries had here, or null. */
export function keptAnswer(form, entries) {
  const answer = read(form);
  if (answer?.entries !== asText(entries)) return null;
  const isMeasured = Array.from(form.querySelectorAll("[data-measured]")).some(({ name }) => name in entries);
  return isMeasured && isOutOfDate(answer.moment, form) ? null : answer;
}

/** Forgets every answer but those of one engine. */
export function forgetAnswers(engine = null) {
  try {
    const ours = Object.keys(localStorage).filter((key) => key.startsWith(KEY));
    for (const key of ours) if (engine === null || !key.startsWith(`${KEY}${engine} `)) localStorage.removeItem(key);
  } catch {
    // Nothing was kept either.
  }
}

function read(form) {
  try {
    return JSON.parse(localStorage.getItem(keyOf(form)));
  } catch {
    return null;
  }
}

const keyOf = (form) => `${KEY}${document.body.dataset.engine} ${form.dataset.calculator}`;
const asText = (entries) => JSON.stringify([Object.entries(entries).sort(), choices()]);
