// What is picked, on the page of a calculator: the pack on top of its form, charger and supply each as a line where they are asked. A tap
// picks another. It is long because the three are laid out alike.

import { builtValues, sayEntries } from "./entry_fields.js";
import { make, makeButton } from "./page_parts.js";
import { picked, things } from "./own_kept.js";
import { dropFound, isLabelIn, outputWords, pick, pickedThing, refusedHere, settleFound, tellEntered } from "./own_picked.js";
import { FACTS, lineOf, measuredOf, outputNumbers, refusalOf, stateOf } from "./own_words.js";
import { entryText } from "./units.js";

const WORDS = {
  pack: { which: "Pick one of my packs", other: "Another pack, by its label", page: "my-packs.html" },
  charger: { which: "Pick one of my chargers", other: "Another charger, by its label", page: "my-chargers.html" },
  supply: { which: "Pick one of my supplies", other: "Another supply", page: "my-supplies.html" },
};
// The first of what is asked of each: its place on the form.
const FIRST = { charger: "charger_current_a", supply: "supply_kind" };

let section, form, startsAs;
let isKnown; // whether the label that stood in the form when it was opened is that of a pack of one's own

export function start(leaving) {
  section = document.getElementById("picked");
  form = document.getElementById("entries");
  startsAs = builtValues(form);
  const again = () => {
    showAll();
    // Another tab may have found the pack out of use meanwhile.
    if (refusedHere(form) && ["answer", "partial"].includes(document.getElementById("answer").dataset.state)) tellEntered(form);
  };
  document.addEventListener("fieldslate:own", again, { signal: leaving });
  document.addEventListener("fieldslate:picked", again, { signal: leaving });
  document.addEventListener("fieldslate:entries", entriesChanged, { signal: leaving });
  // Asked once: a line that came while somebody types would push the field away.
  isKnown = !isEntered("pack") || things("pack").some((pack) => isLabelIn(pack));
  leaving.addEventListener("abort", settleFound);
  addEventListener("pagehide", settleFound, { signal: leaving });
  showAll();
}

/** Picks what the address of the page names, and takes it out of there: `?pick=ID` is a pack's. */
export async function takeFromAddress() {
  const query = new URLSearchParams(location.search);
  const id = query.get("pick");
  if (!id) return;
  history.replaceState({ ...history.state, mine: "" }, "", location.pathname);
  await pick("pack", id);
}

function entriesChanged() {
  dropFound();
  showAll();
}

/** A card asks for nothing itself. */
const kinds = () => section?.dataset.kinds.split(" ") ?? [];

function showAll() {
  form.dataset.pickedPack = pickedThing("pack")?.name ?? ""; // a card says whose it is
  for (const kind of kinds()) show(kind);
  if (section) sayEntries(form, startsAs);
}

function show(kind) {
  const thing = pickedThing(kind);
  if (kind === "pack") offerToKeep(!isKnown && !thing);
  hideLabel(kind, thing);
  const place = placeOf(kind);
  const now = JSON.stringify([thing, picked().output, things(kind), isEntered(kind)]);
  if (place.dataset.shows === now) return; // what is unfolded stays so
  place.dataset.shows = now;
  const choice = things(kind).length ? [chooserOf(kind, thing)] : [];
  place.replaceChildren(...(thing ? [lineOfPicked(kind, thing, choice[0])] : []), ...choice);
}

/** It stands below the answer: above the form it would push the fields and the settings down. */
function offerToKeep(isOffered) {
  const offer = document.getElementById("keep-entered");
  if (!isOffered) return offer?.remove();
  if (offer) return;
  const link = make("a", { href: "my-packs.html?new=entered" }, "Keep this one among my packs");
  form.querySelector(".later")?.prepend(make("p", { class: "own-others", id: "keep-entered" }, link));
}

/** Charger and supply stand where they are asked; a card asks nothing, so there each stands below the pack. */
function placeOf(kind) {
  const known = document.getElementById(`picked-${kind}`);
  if (known) return known;
  const place = make("div", { class: "own-place", id: `picked-${kind}` });
  const group = FIRST[kind] && form.elements.namedItem(FIRST[kind])?.closest(".group");
  if (group) group.before(place);
  else section.append(place);
  return place;
}

const isEntered = (kind) => {
  const field = form.elements.namedItem({ pack: "capacity_mah", charger: "charger_power_w", supply: "lead_length_m" }[kind]);
  return Boolean(field && field.value !== "");
};

function lineOfPicked(kind, thing, chooser) {
  const change = makeButton("Change", () => {
    chooser.open = !chooser.open;
    if (chooser.open) chooser.querySelector("button").focus();
  });
  change.setAttribute("aria-label", `Change: ${thing.name}`);
  const says = [lineOf(kind, thing), kind === "pack" ? stateOf(thing) : ""].filter(Boolean).join(" · ");
  const name = `${thing.name}${kind === "charger" ? outputWords(thing) : ""}`;
  const line = make("div", { class: "own-picked" }, make("p", {}, make("b", {}, name), " ", make("span", {}, says)), change);
  const measured = kind === "pack" ? measuredOf(thing, FACTS.pack.dated.filter((asked) => form.elements.namedItem(asked))) : [];
  if (measured.length) line.append(make("p", { class: "own-measured" }, measured.join(" · ")));
  if (kind === "pack" && thing.refused) line.append(make("p", { class: "own-refused" }, refusalOf(thing), " ", make("a", { href: "cell-check.html" }, "Open the cell check")));
  return line;
}

/** All of a kind, to pick by one tap: folded away where something is entered. */
function chooserOf(kind, thing) {
  const { which, other, page } = WORDS[kind];
  const fold = make("details", { class: "own-choose" }, make("summary", {}, which));
  fold.open = !thing && !isEntered(kind);
  fold.classList.toggle("unpicked", !thing);
  const list = make("ul", { class: "own-tiles" }, ...things(kind).flatMap((one) => tilesOf(kind, one)));
  const others = make("p", { class: "own-others" }, make("a", { href: page }, `My ${FACTS.called[kind]}`));
  if (thing) others.prepend(makeButton(other, () => choose(kind, null)), " ");
  fold.append(list, others);
  return fold;
}

function tilesOf(kind, thing) {
  const outputs = kind === "charger" ? outputNumbers(thing.entries) : ["1"];
  return outputs.map((output) => {
    const name = `${thing.name}${outputs.length > 1 ? `, output ${output}` : ""}`;
    const says = [make("b", {}, name), make("span", {}, lineOf(kind, thing))];
    if (kind === "pack") says.push(make("span", {}, stateOf(thing)));
    const button = makeButton("", () => choose(kind, thing.id, output), { class: "own-tile" });
    button.append(...says);
    return make("li", {}, button);
  });
}

function choose(kind, id, output) {
  pick(kind, id, output);
  const place = placeOf(kind);
  (place.querySelector(".own-picked button") ?? form.querySelector(".entry:not([hidden]) [name]")).focus();
}

/** What a picked thing says is not asked again, but for what it leaves open and for what was found wrong in it. */
function hideLabel(kind, thing) {
  for (const name of FACTS[kind].names) {
    const entry = form.elements.namedItem(name)?.closest(".entry");
    if (!entry) continue;
    const group = entry.closest(".group");
    const isFolded = group.matches("details:not([data-kept])"); // may be known, and stays to be looked at
    entry.toggleAttribute("data-own", Boolean(thing) && !isFolded && entryText(form.elements[name]) !== "");
  }
}
