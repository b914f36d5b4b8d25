// Several packs as one act: how many have the label of the pack at hand, or which of the pilot's own go together. What is chosen stands
// until the page is left; ways.js lists the ways in which these packs may be charged.

import { entriesOf } from "./entry_fields.js";
import { keptEntries } from "./kept_entries.js";
import { open as openEngine } from "./live_engine.js";
import { things } from "./own_kept.js";
import { pickedThing, textsOf } from "./own_picked.js";
import { FACTS, lineOf, refusalOf, stateOf } from "./own_words.js";
import { listed, make, makeButton, write } from "./page_parts.js";
import { takenAt } from "./readings.js";
import { closedLine } from "./several_line.js";
import { showNoWays, showWays } from "./ways.js";

/** Fills the line on the page of one pack. */
export function fill(line, leaving) {
  if (leaving.aborted) return;
  const form = document.getElementById("entries");
  const fold = folded(line, { withCount: true, first: () => packIn(form), beside: () => entriesOf(form) });
  document.addEventListener("fieldslate:answer", fold.show, { signal: leaving });
  document.addEventListener("fieldslate:own", fold.show, { signal: leaving });
  fold.show();
}

/** In the list of the pilot's own packs: which of them. */
export function ofMyPacks(leaving) {
  const fold = folded(closedLine("Charge several together"), { withCount: false, first: () => null, beside: chargerKept });
  fold.element.addEventListener("toggle", () => openEngine(document.body.dataset.engine, { news() {}, answered() {} }, leaving), { once: true });
  return fold;
}

function chargerKept() {
  const kept = keptEntries();
  return Object.fromEntries(FACTS.charger.names.filter((name) => kept.has(name)).map((name) => [name, kept.get(name)[0]]));
}

/** The pack of a form: its label and what was read of it, with the moments. */
function packIn(form) {
  const entries = entriesOf(form);
  const { names, readings } = FACTS.pack;
  const its = [...names, ...readings].filter((name) => entries[name]);
  return {
    id: pickedThing("pack")?.id ?? "",
    name: pickedThing("pack")?.name ?? "",
    texts: Object.fromEntries(its.map((name) => [name, entries[name]])),
    moments: its.map((name) => [name, takenAt({ name })]).filter(([, moment]) => moment !== undefined),
  };
}

/** Returns {element, show}: the line, which unfolds to the choice and the list. `first` is the pack that is there already, if one is. */
function folded(element, { withCount, first, beside }) {
  let count = 1;
  let ticked = []; // ids, in the order in which they were ticked
  const says = element.querySelector(".line-says");
  const choice = make("div", {});
  const ways = make("div", { role: "status" });
  element.append(choice, ways);
  element.addEventListener("toggle", () => show());

  function show() {
    const others = things("pack").filter(({ id }) => id !== first()?.id);
    ticked = ticked.filter((id) => others.some((one) => one.id === id && !one.refused));
    write(says, count > 1 ? `${count} alike` : ticked.length ? `${ticked.length + (first() ? 1 : 0)} packs` : "");
    if (!element.open) return;
    const now = JSON.stringify([others, count, ticked]);
    if (choice.dataset.shows !== now) lay(others, now);
    const packs = chosen();
    if (packs.length > 1) showWays(ways, { ...inRows(packs, count), beside: beside() });
    else showNoWays(ways);
  }

  function lay(others, now) {
    const focused = choice.querySelector(":focus")?.dataset.choice;
    choice.dataset.shows = now;
    choice.replaceChildren(...(withCount ? counts() : []), ...(others.length ? [ticks(others)] : []));
    if (focused) choice.querySelector(`[data-choice="${focused}"]`)?.focus();
  }

  function counts() {
    const buttons = Array.from({ length: FACTS.mostTogether - 1 }, (_, at) => at + 2).map((number) => {
      const act = () => choose(count === number ? 1 : number, []);
      return makeButton(String(number), act, { "aria-label": `${number} packs alike`, "aria-pressed": count === number, "data-choice": `count-${number}` });
    });
    const heading = make("p", { id: "several-alike" }, "How many packs with this label");
    return [heading, make("div", { class: "several-counts", role: "group", "aria-labelledby": "several-alike" }, ...buttons)];
  }

  function ticks(others) {
    const lines = others.map((pack) => {
      const box = make("input", { type: "checkbox", "data-choice": pack.id });
      box.checked = ticked.includes(pack.id);
      box.disabled = Boolean(pack.refused) || (!box.checked && chosen().length >= FACTS.mostTogether);
      box.addEventListener("change", () => choose(1, box.checked ? [...ticked, pack.id] : ticked.filter((id) => id !== pack.id)));
      const line = pack.refused ? refusalOf(pack) : listed([lineOf("pack", pack), stateOf(pack), box.checked && `pack ${ticked.indexOf(pack.id) + (first() ? 2 : 1)}`].filter(Boolean));
      return make("li", {}, make("label", { class: "own-tick" }, box, make("span", {}, make("b", {}, pack.name), " ", make("span", {}, line))));
    });
    const list = make("ul", { class: "own-ticks" }, ...lines);
    if (!withCount) return make("div", {}, make("p", {}, "Tick two or more"), list);
    const fold = make("details", {}, make("summary", { "data-choice": "others" }, "Or together with others of my packs"), list);
    fold.open = ticked.length > 0 || Boolean(choice.querySelector("details")?.open);
    return fold;
  }

  function choose(newCount, ids) {
    [count, ticked] = [newCount, ids];
    show();
  }

  function chosen() {
    const own = first();
    const others = ticked.map((id) => things("pack").find((one) => one.id === id));
    return [...Array.from({ length: own ? count : 0 }, () => own), ...others.map((pack) => ({ id: pack.id, name: pack.name, texts: textsOf("pack", pack), moments: [] }))];
  }

  return { element, show };
}

/** Packs as the entries of a page with rows. Packs alike are one row and their count. */
function inRows(packs, count) {
  const rowsOf = count > 1 ? packs.slice(0, 1) : packs;
  const named = rowsOf.flatMap(({ texts }, at) => Object.entries(texts).map(([name, text]) => [`packs_${at + 1}_${name}`, text]));
  return {
    rows: { ...Object.fromEntries(named.filter(([, text]) => text !== "")), ...(count > 1 && { alike_packs: String(count) }) },
    moments: new Map(rowsOf.flatMap(({ moments }, at) => moments.map(([name, moment]) => [`packs_${at + 1}_${name}`, moment]))),
    ids: rowsOf.map(({ id }) => id),
    names: rowsOf.map(({ name }) => name),
  };
}
