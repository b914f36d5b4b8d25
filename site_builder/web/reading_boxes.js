// The readings of a pack in a box for each of its cells, over the one text that form, address and store know as the entry. Text is
// taken apart and joined here, and nothing more: what was read, Python says. Where the cells are not known, or what stands there
// has no place for each, the one text is what is seen. reading_keys.js has what is typed in them.

import { countIn, nameThatHolds } from "./alike_rows.js";
import { make, makeButton, write } from "./page_parts.js";

const NOT_READ = "-";
const A_PLACE = /^(-|[\d.,]+)$/;
const BEGUN = /^\d{0,2}[.,]?$/; // too short to be a reading yet, while its box is typed in
const DIGITS_ALONE = /^\d+$/;

const meanwhile = new WeakMap(); // the one text in which somebody types -> what it was, and what Python has read in it

export const isInBoxes = (field) => field.closest(".entry").hasAttribute("data-in-boxes");
export const boxesOf = (field) => [...field.closest(".entry").querySelectorAll(".cell-boxes input")];
export const fieldOf = (inside) => inside.closest(".entry").querySelector("[data-of-cells]");
export const firstEmpty = (field) => boxesOf(field).find((box) => box.value === "") ?? boxesOf(field)[0];
export const isOnePlace = (text) => A_PLACE.test(text);

/** Lays out each entry of readings for the pack as it is entered now. */
export function layBoxes(form) {
  for (const field of form.querySelectorAll("[data-of-cells]")) lay(field);
}

/** Puts what Python has read of each cell in the place of what was typed, and says whether an entry's text is another one now. */
export function putAsRead(form, readings) {
  let isNew = false;
  for (const [name, text] of Object.entries(readings)) {
    const field = form.elements.namedItem(name);
    if (!("ofCells" in field.dataset)) continue; // a card's, whose entries stand on another page
    const isPasted = "pasted" in field.dataset;
    if (field === document.activeElement && !isPasted) {
      meanwhile.set(field, [field.value, text]); // it is still being typed
      continue;
    }
    isNew ||= field.value !== text;
    field.value = text;
    lay(field, isPasted);
    delete field.dataset.pasted;
    if (isPasted) goOn(field);
  }
  return isNew;
}

/** Puts in the place of a text that is left what Python has read in it meanwhile, and says whether that is another text. */
export function putMeanwhile(field) {
  const [text, read] = meanwhile.get(field) ?? [];
  meanwhile.delete(field);
  if (read === text || field.value !== text) return false;
  field.value = read;
  return true;
}

/** Marks the boxes that Python asks about again: what has no point yet once it was read. */
export function markBoxes(form) {
  for (const field of form.querySelectorAll("[data-in-boxes] [data-of-cells]")) {
    const isAsked = field.hasAttribute("aria-invalid");
    for (const box of boxesOf(field)) {
      if (isAsked && DIGITS_ALONE.test(placeOf(box))) box.setAttribute("aria-invalid", "true");
      else box.removeAttribute("aria-invalid");
    }
    field.closest(".entry").querySelector(".cell-boxes").setAttribute("aria-describedby", `problem-${field.name}`);
  }
}

/** Lays an entry out, but not under somebody who types in its one text, unless that is what is wanted. */
export function lay(field, evenIfTyped = false) {
  if (field === document.activeElement && !isInBoxes(field) && !evenIfTyped) return;
  const count = cellsOf(field);
  if (isInBoxes(field) && boxesOf(field).length === count && joined(field) === field.value) return;
  const places = placesOf(field);
  setWay(field, places !== null);
  if (!places) return;
  if (boxesOf(field).length !== count) makeBoxes(field, count);
  boxesOf(field).forEach((box, cell) => {
    if (placeOf(box) !== places[cell]) box.value = places[cell] === NOT_READ ? "" : places[cell];
  });
}

export function setWay(field, inBoxes) {
  field.closest(".entry").toggleAttribute("data-in-boxes", inBoxes);
  field.tabIndex = inBoxes ? -1 : 0;
  if (inBoxes) field.setAttribute("aria-hidden", "true");
  else field.removeAttribute("aria-hidden");
  offerOtherWay(field, inBoxes);
}

/** Returns the text of each cell that the entry has, or null where it has none. */
export function placesOf(field) {
  const count = cellsOf(field);
  if (count === 0) return null;
  if (field.value === "") return Array(count).fill(NOT_READ);
  const places = field.value.split(" ");
  return places.length === count && places.every(isOnePlace) ? places : null;
}

/** Returns what is in the boxes as the one text. */
export function joined(field) {
  const places = boxesOf(field).map(placeOf);
  return places.every((place) => place === NOT_READ) ? "" : places.join(" ");
}

/** Goes to an entry as the Tab key does: what is typed then takes the place of what stands there. */
export function goTo(entry) {
  entry.focus();
  if (entry.matches("input[type=text]")) entry.select();
}

/** Goes to the next box, and after the last to the next entry. */
export function goOn(field, box) {
  const boxes = boxesOf(field);
  const next = box && boxes[boxes.indexOf(box) + 1];
  if (next) return goTo(next);
  const entries = [...field.form.querySelectorAll("[name]")];
  const after = entries.slice(entries.indexOf(field) + 1).find((entry) => entry.checkVisibility());
  if (after) goTo(after);
  else document.activeElement.blur();
}

/** What is begun and not yet a reading counts as not read while its box is typed in, and is asked about once it is left. */
function placeOf(box) {
  const text = box.value.replace(/\s/g, "");
  return text === "" || (box === document.activeElement && BEGUN.test(text)) ? NOT_READ : text;
}

function cellsOf({ form, dataset }) {
  const counted = form.elements.namedItem(nameThatHolds(form, dataset.ofCells));
  return counted ? countIn(counted.value.trim()) : 0;
}

function makeBoxes(field, count) {
  const entry = field.closest(".entry");
  const label = entry.querySelector("label");
  label.id = `label-${field.name}`;
  entry.querySelector(".cell-boxes")?.remove();
  const boxes = Array.from({ length: count }, (_, cell) => makeBox(cell + 1));
  (field.closest(".with-unit") ?? field).after(make("div", { class: "cell-boxes", role: "group", "aria-labelledby": label.id }, ...boxes));
}

function makeBox(number) {
  const box = { type: "text", inputmode: "decimal", enterkeyhint: "next", "aria-label": `Cell ${number}` };
  return make("label", {}, make("span", {}, `${number}`), make("input", box));
}

/** What is read off as a whole has no cells: only a voltage is. It takes readings out, so it is there where that can be taken back. */
function offerOtherWay(field, inBoxes) {
  const entry = field.closest(".entry");
  const button = entry.querySelector(".other-way");
  if (cellsOf(field) < 2 || !("hundredths" in field.dataset) || !field.form.querySelector("#undo")) return button?.remove();
  write(button ?? entry.appendChild(makeButton("", () => {}, { class: "button other-way" })), inBoxes ? "The whole pack instead" : "Each cell instead");
}
