// What was read on the pack now: once an answer rests on it, it folds to a line that says it, and the answer comes up to where it stood.

import { isFilled } from "./choice_taps.js";
import { at, hide, listed, make, makeButton, write } from "./page_parts.js";
import * as readings from "./readings.js";
import { textWithUnit } from "./units.js";

const NOW_MS = 120_000;

/** Begins for the form that is open, if it asks for readings. */
export function foldReadings(form, leaving) {
  const asked = form.querySelector("[data-readings]");
  if (!asked) return;
  const said = make("span", {});
  const again = makeButton("Read again", () => unfold(true), { class: "button read-again" });
  const line = make("p", { class: "readings-line", hidden: "" }, said, again);
  asked.before(line);
  const answer = document.getElementById("answer");
  const fields = () => [...asked.querySelectorAll(".entry:not([hidden]) [name]")];

  document.addEventListener("fieldslate:answer", look, { signal: leaving });
  document.addEventListener("fieldslate:look", () => line.hidden || look(), { signal: leaving }); // what was read now was read at an hour
  asked.addEventListener("focusout", ({ relatedTarget }) => setTimeout(look, 0, null, relatedTarget));

  /** Nothing folds away from under the fingers. */
  function look() {
    if (!rests()) return unfold(false);
    if (!asked.contains(document.activeElement)) fold();
  }

  function rests() {
    const { state, mayStart } = answer.dataset;
    // What was read before this page was opened is folded at once, and unfolds if it is refused: the answer comes to where it stays.
    const stands = ["waiting", "kept"].includes(state) || (["answer", "partial"].includes(state) && mayStart !== undefined);
    const isOwn = form.dataset.from !== "link"; // what somebody else read is looked at before it is used
    return stands && isOwn && fields().length > 0 && fields().every(isFilled);
  }

  function fold() {
    const moment = readings.oldest(form);
    const when = moment === null ? [] : [Date.now() - moment < NOW_MS ? "now" : at(moment)];
    write(said, listed([...fields().map(textWithUnit).filter(Boolean), ...when]));
    hide(asked, true);
    hide(line, false);
  }

  function unfold(byHand) {
    hide(asked, false);
    hide(line, true);
    if (byHand) fields()[0].focus();
  }
}
