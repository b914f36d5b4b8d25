// What is typed and pasted in the boxes of reading_boxes.js: on a keypad of digits and a point they move on by themselves, and a text
// of all readings goes in whole, in whatever form, into any of them.

import { beforeClearing } from "./form_undo.js";
import { boxesOf, fieldOf, firstEmpty, goOn, goTo, isInBoxes, isOnePlace, joined, lay, placesOf, putMeanwhile, setWay } from "./reading_boxes.js";
import { isWhole, lendDigit } from "./reading_digits.js";

const AND_ON = /^(\d*[.,]\d+[.,]|[\d.,]*\d[\s;/|])$/; // a reading, and a mark that no number has there
const SEVERAL = /\d\D*[\s;:/|]\D*\d/;
const HAS_POINT = /[.,]/;

let sentTo = null; // where a full box has just sent the focus by itself: a key that goes on is meant for that box still, and would skip a cell
let ranOn = null; // the box whose reading with a point has just sent the focus on, while it stays where it went

const isBox = (element) => element.closest(".cell-boxes") !== null;

/** Hears of what is typed before the form does: to it, a box is no entry. */
export function listenToBoxes(form) {
  const first = { capture: true };
  form.addEventListener("input", typed, first);
  form.addEventListener("keydown", moved, first);
  form.addEventListener("paste", pasted);
  form.addEventListener("focusin", arrived);
  form.addEventListener("focusout", left);
  form.addEventListener("mousedown", keepFocus);
  form.addEventListener("click", takeOtherWay);
}

function arrived({ target }) {
  sentTo = ranOn = null;
  if (target.matches("[data-in-boxes] [data-of-cells]")) goTo(firstEmpty(target));
}

function typed(event) {
  const box = event.target;
  sentTo = null;
  if (!isBox(box)) return void delete box.dataset.pasted;
  event.stopImmediatePropagation();
  const field = fieldOf(box);
  const boxes = boxesOf(field);
  if (ranOn && boxes[boxes.indexOf(ranOn) + 1] === box) lendDigit(ranOn, box);
  const text = box.value.trim();
  const isEnded = AND_ON.test(box.value);
  const isAlone = boxes.every((other) => other === box || other.value === "");
  if (isEnded) box.value = box.value.slice(0, -1);
  else if (text !== "" && !isOnePlace(text) && (isAlone || SEVERAL.test(text))) return putWhole(field, text);
  const isTakenBack = event.inputType?.startsWith("delete");
  const isFull = "hundredths" in field.dataset && !isTakenBack && isWhole(boxes, box);
  if (isEnded || isFull) goOn(field, box);
  if (isFull) sentTo = document.activeElement;
  if (isFull && HAS_POINT.test(text)) ranOn = box;
  put(field);
}

function pasted(event) {
  const text = event.clipboardData.getData("text").trim().replace(/\s+/g, " ");
  if (!isBox(event.target) || isOnePlace(text)) return;
  event.preventDefault();
  putWhole(fieldOf(event.target), text);
}

/** A text of all readings is seen as it is until Python has read it. */
function putWhole(field, text) {
  field.value = text;
  const hasPlaces = placesOf(field) !== null;
  if (hasPlaces) {
    lay(field);
    goOn(field);
  } else {
    setWay(field, false);
    field.focus();
    field.setSelectionRange(text.length, text.length);
  }
  tell(field);
  if (!hasPlaces) field.dataset.pasted = "";
}

function moved(event) {
  const { target, key } = event;
  const isMeantForBefore = target === sentTo && (key === "Enter" || (key === "Tab" && !event.shiftKey));
  if (isMeantForBefore) sentTo = null;
  else if (!isBox(target)) return;
  else if (key === "Enter") goOn(fieldOf(target), target);
  else if (key === "Backspace" && target.value === "" && boxBefore(target)) boxBefore(target).focus();
  else return;
  event.preventDefault();
  event.stopImmediatePropagation();
}

function boxBefore(box) {
  const boxes = boxesOf(fieldOf(box));
  return boxes[boxes.indexOf(box) - 1];
}

function left({ target }) {
  if (isBox(target)) return isInBoxes(fieldOf(target)) && put(fieldOf(target));
  if (!("ofCells" in target.dataset)) return;
  const isNew = putMeanwhile(target);
  lay(target, true);
  if (isNew) target.form.dispatchEvent(new CustomEvent("fieldslate:as-read"));
}

/** Else the one text is left before the tap, and laid out anew under it. */
function keepFocus(event) {
  if (event.target.closest(".other-way")) event.preventDefault();
}

function takeOtherWay({ target }) {
  const button = target.closest(".other-way");
  if (!button) return;
  const field = fieldOf(button);
  if (isInBoxes(field)) typeWhole(field);
  else typeEach(field);
}

/** What is in the boxes stays until something is typed over it. */
function typeWhole(field) {
  setWay(field, false);
  field.focus();
  field.select();
}

function typeEach(field) {
  const offerUndo = beforeClearing(field.form, [field]);
  const hasPlaces = placesOf(field) !== null;
  if (!hasPlaces) field.value = "";
  lay(field, true);
  goTo(firstEmpty(field));
  if (hasPlaces) return;
  tell(field);
  offerUndo("The pack's voltage is taken out.");
}

function put(field) {
  if (joined(field) === field.value) return;
  field.value = joined(field);
  tell(field);
}

const tell = (field) => field.dispatchEvent(new Event("input", { bubbles: true }));
