// The last answer of each calculator on this phone, for the time before the engine is up. It is found by the exact entries, the
// units, and the engine that worked it out: for others, or in another version, there is none. Readings among the entries are looked at
// by form.js, which empties their fields when they are true no longer.

import * as kept from "./kept.js";
import { isGroup, isNumber, isText } from "./shapes.js";
import { choices } from "./units.js";

const START = "answer "; // then the engine's folder and the calculator

export const answerOf = (calculator) => ({
  name: `${START}${document.body.dataset.engine} ${calculator}`,
  version: 1,
  called: "your last answer",
  isQuiet: true,
  fits: (value) => isGroup(value) && [value.entries, value.html, value.summary].every(isText) && isNumber(value.moment),
});

export function keepAnswer(form, entries, { html, summary }) {
  kept.keep(kindOf(form), { entries: asText(entries), html, summary, moment: Date.now() });
}

/** Returns the answer {html, summary, moment} that these entries had here, or null. */
export function keptAnswer(form, entries) {
  const answer = kept.read(kindOf(form));
  return answer?.entries === asText(entries) ? answer : null;
}

export const forgetAnswers = () => kept.forgetAll(START);
export const forgetOtherEngines = () => kept.forgetAll(START, `${START}${document.body.dataset.engine} `);

const kindOf = (form) => answerOf(form.dataset.calculator);
const asText = (entries) => JSON.stringify([Object.entries(entries).sort(), choices()]);
