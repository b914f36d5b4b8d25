// What a pack's log puts into a form: its lines into the rows of the page of ageing, its flights into those of the flight timer. Only
// a pack that is picked has a log. The text moves as it was typed; what it comes to, calc says.

import { builtValues } from "./entry_fields.js";
import { beforeClearing } from "./form_undo.js";
import { linesOf, openLog } from "./log_kept.js";
import { keepPicked, picked } from "./own_kept.js";
import { pickedThing, tellEntered } from "./own_picked.js";
import { FACTS } from "./own_words.js";
import { make, makeButton } from "./page_parts.js";
import { setEntry } from "./units.js";

let form, place;

export async function start(leaving) {
  form = document.getElementById("entries");
  place = document.getElementById("from-log") ?? form.querySelector(".later");
  document.addEventListener("fieldslate:picked", follow, { signal: leaving });
  document.addEventListener("fieldslate:log", follow, { signal: leaving });
  await follow({});
}

const rowsHere = () => (form.elements.namedItem("lines_1_day") ? "lines" : "flights");

/** The lines of the pack that is in hand stand in the rows, and never another's. */
async function follow({ type }) {
  const pack = pickedThing("pack");
  if (!pack) return offer(null);
  await openLog(pack.id);
  if (!form.isConnected) return;
  if (rowsHere() === "flights") return offer(pack);
  const isNew = picked().lines !== pack.id;
  if (isNew) await keepPicked({ ...picked(), lines: pack.id });
  if (isNew || linesOf(pack.id).length || type === "fieldslate:log") fillRows("lines", lineRows(linesOf(pack.id)));
}

/** The timer's flights are put in by a tap: a pilot may have noted those of one model alone. */
function offer(pack) {
  document.getElementById("flights-from-log")?.remove();
  const flights = pack ? flightRows(linesOf(pack.id)) : [];
  if (!flights.length) return;
  const fill = makeButton(`Take the last ${flights.length === 1 ? "flight" : `${flights.length} flights`} from the log of ${pack.name}`, () => {
    const offerUndo = beforeClearing(form, [...form.querySelectorAll('[name^="flights_"]')]);
    fillRows("flights", flights);
    offerUndo("The flights are those of the log.");
  });
  place.prepend(make("p", { class: "own-others", id: "flights-from-log" }, fill));
}

function fillRows(rows, all) {
  const startsAs = builtValues(form);
  const fields = [...form.querySelectorAll(`[name^="${rows}_"]`)];
  const textOf = ({ name }) => {
    const [, number, own] = name.match(/^[a-z]+_(\d+)_(.+)$/);
    return all[number - 1]?.[own] ?? startsAs[name];
  };
  if (fields.every((field) => field.value === textOf(field))) return;
  for (const field of fields) setEntry(field, textOf(field));
  tellEntered(form);
}

/** A flight, and what was put back after it: noted with it, or by the charge that came next. */
function flightRows(lines) {
  const found = lines.flatMap(({ entries }, at) => {
    if (entries.kind !== "flight" || !entries.taken_min) return [];
    const next = lines.slice(at + 1).find((one) => ["flight", "charge"].includes(one.entries.kind))?.entries;
    const back = entries.put_in_mah || (next?.kind === "charge" && next.put_in_mah);
    return back ? [{ flown_min: entries.taken_min, put_back_mah: back }] : [];
  });
  return found.slice(-FACTS.log.flights);
}

/** Of a long log the first lines and the last: the charges between them are counted by the line that follows. */
function lineRows(lines) {
  const { most, first } = FACTS.log;
  const all = lines.map(({ entries }) => entries);
  if (all.length <= most) return all;
  const [begin, left, rest] = [all.slice(0, first), all.slice(first, first - most), all.slice(first - most)];
  const charges = [...left, rest[0]].filter(({ kind }) => kind === "charge").length;
  return [...begin, { ...rest[0], charges: `${charges}` }, ...rest.slice(1)];
}
