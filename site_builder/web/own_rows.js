// Several of the pilot's own packs on one page: a tick fills the next row of the form with a pack's label, and each row keeps its own readings.

import { builtValues, sayEntries } from "./entry_fields.js";
import { beforeClearing } from "./form_undo.js";
import { listed, make } from "./page_parts.js";
import { keepPicked, picked, thingOf, things } from "./own_kept.js";
import { tellEntered, textsOf } from "./own_picked.js";
import { lineOf, refusalOf, stateOf } from "./own_words.js";
import * as readings from "./readings.js";
import { entryText, setEntry } from "./units.js";

const FOLDED_FROM = 3; // ticks, for whoever comes back: the rows below name them too

let place, form, startsAs;
let ticked; // ids of packs in the order of their rows

export function start(leaving) {
  place = document.getElementById("picked-rows");
  form = document.getElementById("entries");
  ticked = (picked().packs ?? "").split(" ");
  if (!place) return; // a card has the rows, and no list to tick
  startsAs = builtValues(form);
  const show = () => showList();
  document.addEventListener("fieldslate:own", show, { signal: leaving });
  document.addEventListener("fieldslate:entries", show, { signal: leaving });
  show();
}

const fieldsOf = (number) => [...form.querySelectorAll(`[name^="packs_${number}_"]`)];
const nameIn = (field) => field.name.replace(/^packs_\d+_/, "");
const rowNumbers = () => [...new Set(Array.from(form.querySelectorAll('[name^="packs_"]'), ({ name }) => name.split("_")[1]))];

/** Fills a row with what is on a pack's label; what was read of the pack before it goes. */
export function fillRow(number, pack) {
  const texts = pack ? textsOf("pack", pack) : {};
  for (const field of fieldsOf(number)) setEntry(field, texts[nameIn(field)] || startsAs[field.name]);
}

/** Takes the label of a row and its readings, with their moments, to the row before it. */
function moveUp(from, to) {
  for (const field of fieldsOf(from)) {
    const target = form.elements[`packs_${to}_${nameIn(field)}`];
    setEntry(target, entryText(field));
    readings.carry(field, target);
  }
}

/** Says whether a row still has what is on the label of the pack that was put there. */
function isIn(number, id) {
  const pack = thingOf("pack", id);
  if (!pack) return false;
  const texts = textsOf("pack", pack);
  return fieldsOf(number).every((field) => !texts[nameIn(field)] || texts[nameIn(field)] === entryText(field));
}

/** Returns the own pack that was ticked into a row, while the row still has its label; null else. */
export function packInRow(number) {
  const id = ticked?.[rowNumbers().indexOf(number)];
  return id && isIn(number, id) ? thingOf("pack", id) : null;
}

/** Returns each pack that was ticked into a row, with the row's number. */
export const packsInRows = () => rowNumbers().map((number) => ({ number, pack: packInRow(number) })).filter(({ pack }) => pack);

const isEmpty = (number) => fieldsOf(number).every((field) => entryText(field) === startsAs[field.name]);

function showList() {
  ticked = rowNumbers().map((number, at) => (ticked[at] && isIn(number, ticked[at]) ? ticked[at] : null));
  rowNumbers().forEach((number, at) => hideLabel(number, thingOf("pack", ticked[at])));
  sayEntries(form, startsAs);
  const all = things("pack");
  place.hidden = all.length === 0;
  const now = JSON.stringify([all, all.map(stateOf), ticked]);
  if (place.dataset.shows === now) return;
  place.dataset.shows = now;
  const focused = document.activeElement?.dataset?.pack;
  const count = ticked.filter(Boolean).length;
  const isOpen = place.querySelector("details")?.open ?? count < FOLDED_FROM;
  const says = make("span", { class: "line-says" }, count ? `${count} ticked` : "");
  const list = make("details", {}, make("summary", {}, make("h2", {}, "Tick the packs"), " ", says), make("ul", { class: "own-ticks" }, ...all.map(lineOfPack)));
  list.open = isOpen;
  place.replaceChildren(list);
  if (focused) place.querySelector(`[data-pack="${focused}"]`)?.focus();
}

/** What is on the label of a pack that is ticked is not asked again. */
function hideLabel(number, pack) {
  const texts = pack ? textsOf("pack", pack) : {};
  const fields = fieldsOf(number);
  for (const field of fields) field.closest(".entry").toggleAttribute("data-own", Boolean(texts[nameIn(field)]));
  const row = fields[0]?.closest("[data-row-of]");
  if (row) row.dataset.ownName = pack?.name ?? "";
}

function lineOfPack(pack) {
  const row = ticked.indexOf(pack.id);
  const box = make("input", { type: "checkbox", "data-pack": pack.id });
  box.checked = row >= 0;
  box.disabled = row < 0 && Boolean(pack.refused);
  box.addEventListener("change", () => turn(pack, row));
  const says = pack.refused ? refusalOf(pack) : listed([lineOf("pack", pack), stateOf(pack), row >= 0 && `pack ${rowNumbers()[row]} below`].filter(Boolean));
  return make("li", {}, make("label", { class: "own-tick" }, box, make("span", {}, make("b", {}, pack.name), " ", make("span", {}, says))));
}

function turn(pack, row) {
  const numbers = rowNumbers();
  let offer;
  if (row < 0) {
    const free = numbers.find(isEmpty);
    if (!free) return showFull();
    fillRow(free, pack);
    ticked[numbers.indexOf(free)] = pack.id;
    const filled = fieldsOf(free)[0].closest("details");
    if (filled) filled.open = true; // its readings are next
  } else {
    const was = ticked;
    const offerUndo = beforeClearing(form, numbers.slice(row).flatMap(fieldsOf));
    offer = () => offerUndo(`${pack.name} is taken out.`, () => keepTicked(was));
    ticked = [...was];
    const last = numbers.findLastIndex((number) => !isEmpty(number));
    for (let at = row; at < last; at += 1) {
      moveUp(numbers[at + 1], numbers[at]);
      ticked[at] = ticked[at + 1];
    }
    fillRow(numbers[last], null);
    ticked[last] = null;
  }
  keepTicked(ticked);
  tellEntered(form);
  document.dispatchEvent(new CustomEvent("fieldslate:picked", { detail: { kind: "packs" } }));
  offer?.();
}

function keepTicked(ids) {
  ticked = ids;
  keepPicked({ ...picked(), packs: ids.map((id) => id ?? "").join(" ") });
}

function showFull() {
  place.dataset.shows = "";
  showList();
  place.append(make("p", { role: "alert" }, `This page takes ${rowNumbers().length} packs at most.`));
}

/** Returns why a pack that is ticked gets no number, in a sentence; null where each may. */
export function refusedRow(of) {
  if (!of.elements.namedItem("packs_1_resting_v")) return null;
  form = of;
  const ids = (picked().packs ?? "").split(" ");
  const pack = things("pack").find((one) => one.refused && rowNumbers().some((number, at) => ids[at] === one.id && isIn(number, one.id)));
  return pack ? refusalOf(pack) : null;
}
