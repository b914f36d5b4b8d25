// The last answer of each calculator on this phone, for the time before the engine is up. It is found by the exact entries, the
// units, and the engine that worked it out: for others, for measured values that are out of date, or in another version there is none.

import { isOutOfDate } from "./kept_entries.js";
import { keep, read } from "./stored.js";
import { choices } from "./units.js";

const KEY = "fieldslate.answer "; // then the engine's folder and the calculator

export function keepAnswer(form, entries, { html, summary }) {
  keep(keyOf(form), { entries: asText(entries), html, summary, moment: Date.now() });
}

/** Returns the answer {html, summary, moment} that these entries had here, or null. */
export function keptAnswer(form, entries) {
  const answer = read(keyOf(form));
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

const keyOf = (form) => `${KEY}${document.body.dataset.engine} ${form.dataset.calculator}`;
const asText = (entries) => JSON.stringify([Object.entries(entries).sort(), choices()]);
