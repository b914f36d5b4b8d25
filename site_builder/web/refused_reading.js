// A reading that was refused has taken every number away, and clearing it brings none back: a new reading that passes does, or another pack.

import { measuredIn } from "./kept_entries.js";

let isRefused = false;

/** Takes note of what was answered to the entries of a form. */
export function noteAnswer(form, { kind, problems, may_start: passed }) {
  if (kind === "refusal" && measuredIn(form).some(({ name }) => name in problems)) isRefused = true;
  else if (kind !== "refusal" && passed) isRefused = false;
}

/** Says why there are no numbers in place of an answer that a refused reading bars, or an empty text. */
export const barred = ({ kind, may_start: passed }) =>
  isRefused && kind === "partial" && !passed ? "The last reading was refused. Read it again: numbers come back once a new reading has passed." : "";

/** Another pack has been taken in hand. */
export const forgetRefused = () => (isRefused = false);

document.addEventListener("fieldslate:picked", forgetRefused);
