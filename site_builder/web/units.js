// The units that the pilot chose, one for each kind of thing, kept on this phone. A tap on a unit chooses the next.
// What leaves the form is text that says its unit, wherever that is not the entry's own: a number that was typed before the
// choice changed is never read anew. What the numbers are in another unit, Python says.

import { makeButton, write } from "./page_parts.js";
import * as kept from "./kept.js";
import { isGroupOf, isText } from "./shapes.js";

// kind of thing -> the unit's name in calc
export const UNITS = { name: "units", version: 1, called: "the units that you chose", fits: (value) => isGroupOf(value, isText) };
export const A_NUMBER_ALONE = /[\d.,]$/; // nothing stands after it
const HOW_A_MOMENT_IS_WRITTEN = /[:-]/; // "h:min" stands beside its field, and is no unit

let goBackTo = null; // the kind of a sign in the answer that was tapped: the answer comes anew, and its sign with it

export const choices = () => kept.read(UNITS) ?? {};

/** An entry's text as everything outside the form knows it: a number alone is in the entry's own unit. */
export function entryText(field) {
  const text = field.value.trim();
  const [own, shown] = unitsOf(field);
  if (own === shown) return text;
  if (A_NUMBER_ALONE.test(text)) return `${text} ${shown}`;
  return text.endsWith(` ${own}`) ? text.slice(0, -own.length).trim() : text;
}

/** An entry's text as it is read out of the form: a number alone has its unit with it. */
export function textWithUnit(field) {
  const sign = field.closest(".entry").querySelector(".unit")?.textContent;
  return sign && !HOW_A_MOMENT_IS_WRITTEN.test(sign) && A_NUMBER_ALONE.test(field.value) ? `${field.value.trim()}\u00a0${sign}` : field.value.trim();
}

/** Puts an entry's text into its field, in which a number alone is in the unit that was chosen. */
export function setEntry(field, text) {
  const [own, shown] = unitsOf(field);
  if (!own) return void (field.value = text);
  if (own === shown) field.value = text;
  else if (A_NUMBER_ALONE.test(text)) field.value = `${text} ${own}`;
  else field.value = text.endsWith(` ${shown}`) ? text.slice(0, -shown.length).trim() : text;
  // A number that says its unit is longer than one alone, and must be read to its end.
  field.closest(".entry").classList.toggle("wide", /\d/.test(field.value) && !A_NUMBER_ALONE.test(field.value));
}

/** Makes a button of each unit that can be changed, in the form or in an answer. */
export function offerUnits(root) {
  for (const sign of root.querySelectorAll("span[data-units]")) {
    const button = makeButton("", () => chooseNext(button), { class: "unit" });
    Object.assign(button.dataset, sign.dataset);
    sign.replaceWith(button);
    label(button);
  }
}

/** The answer has come in the unit that was chosen in it: the pilot goes on where that sign stands now. */
export function goBackToUnit(body) {
  const sign = goBackTo && body.querySelector(`button[data-unit-kind="${goBackTo}"]`);
  if (!sign) return;
  goBackTo = null;
  sign.focus();
}

function chooseNext(button) {
  const { unitKind } = button.dataset;
  const entries = fieldsOf(unitKind).map((field) => [field, entryText(field)]);
  const next = turnOf(button).next;
  const { [unitKind]: _, ...others } = choices();
  kept.keep(UNITS, next === turnOf(button).all[0] ? others : { ...others, [unitKind]: next.name });
  for (const [field, text] of entries) setEntry(field, text);
  for (const other of document.querySelectorAll("button[data-units]")) label(other);
  if (isInAnswer(button)) goBackTo = unitKind;
  document.dispatchEvent(new CustomEvent("fieldslate:units"));
}

function label(button) {
  const { shown, next } = turnOf(button);
  write(button, shown.sign);
  button.setAttribute("aria-label", `${button.dataset.unitSays} in ${shown.sign}. Change to ${next.sign}`);
  const name = button.closest(".entry")?.querySelector("label .unseen");
  if (name) write(name, shown.sign);
}

/** All units of a sign in turn, the one that is shown, and the one after it. An answer has the unit that it was given in. */
function turnOf(sign) {
  const all = sign.dataset.units.split(" ").map((unit) => ({ name: unit.split(":")[0], sign: unit.split(":")[1] }));
  const now = isInAnswer(sign) ? sign.dataset.unit : choices()[sign.dataset.unitKind];
  const place = Math.max(0, all.findIndex(({ name }) => name === now));
  return { all, shown: all[place], next: all[(place + 1) % all.length] };
}

function unitsOf(field) {
  const sign = field.closest(".entry")?.querySelector("[data-units]");
  if (!sign) return ["", ""];
  const { all, shown } = turnOf(sign);
  return [all[0].sign, shown.sign];
}

const fieldsOf = (kind) =>
  Array.from(document.querySelectorAll(`.entry [data-unit-kind="${kind}"]`), (sign) => sign.closest(".entry").querySelector("[name]"));

const isInAnswer = (button) => button.closest("#answer-body") !== null;
