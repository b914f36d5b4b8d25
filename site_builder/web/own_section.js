// What is picked, on the page of a calculator: the pack on top of its form, charger and supply each as a line where they are asked. A tap
// picks another. What each looks like stands in own_tiles.js.

import { builtValues, sayEntries } from "./entry_fields.js";
import { make } from "./page_parts.js";
import { picked, thingOf, things } from "./own_kept.js";
import { asksBothOutputs, dropFound, isLabelIn, pick, pickedThing, pickWholeCharger, refusedHere, settleFound, tellEntered, textsOf } from "./own_picked.js";
import { firstNameOf, isSecond, outputName, SECONDS, thingKind } from "./own_second.js";
import { chooserOf, lineOfPicked, tilesOf } from "./own_tiles.js";
import { FACTS, outputNumbers, stateOf } from "./own_words.js";
import { entryText } from "./units.js";

const NOT_HERE = "The pack that this link is for is not on this phone. Your entries are as they were.";
// The first of what is asked of each is its place on the form; a pack's is on top.
const placed = (kind) => (kind === "pack" ? undefined : FACTS[kind].names.find((name) => form.elements.namedItem(name)));

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
  pickWholeCharger(form);
  showAll();
}

/** Picks what the address of the page names, as a tap does, and takes it out of there: `?pick=ID` is a pack's. One that is not here changes
 *  nothing: the link may be another phone's, or older than what was removed. */
export async function takeFromAddress() {
  const id = new URLSearchParams(location.search).get("pick");
  if (!id || document.getElementById("entries").dataset.from === "link") return; // what somebody else entered is looked at first, and a pick would write over one's own
  history.replaceState({ ...history.state, mine: "" }, "", location.pathname);
  if (thingOf("pack", id)) await pick("pack", id);
  else document.getElementById("picked")?.prepend(make("p", { role: "status" }, NOT_HERE));
}

function entriesChanged() {
  dropFound();
  showAll();
}

/** A card asks for nothing itself. */
const kinds = () => (section ? [...(asksBothOutputs(form) ? SECONDS : []), ...section.dataset.kinds.split(" ")] : []);

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
  const all = things(thingKind(kind));
  const tiles = mayBePicked(kind) ? all.flatMap((one) => tilesOf(form, kind, one, choose)) : [];
  const now = JSON.stringify([thing, picked()[outputName(kind)], all, all.map(stateOf), isEntered(kind), tiles.length]);
  if (place.dataset.shows === now) return; // what is unfolded stays so
  place.dataset.shows = now;
  const choice = tiles.length ? [chooserOf(kind, thing, { tiles, isOpen: !isSecond(kind) && !thing && !isEntered(kind), choose })] : [];
  place.replaceChildren(...(thing ? [lineOfPicked(form, kind, thing, choice[0])] : []), ...choice);
}

/** A second charger is picked beside a first one with one output, and its supply once there is another charger. */
function mayBePicked(kind) {
  if (kind === "second_supply") return !form.elements.second_supply.closest(".entry").hidden;
  const first = pickedThing("charger");
  return kind !== "second_charger" || (isEntered("charger") && outputNumbers(first?.entries ?? {}).length < 2);
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
  const first = isSecond(kind) ? firstNameOf(kind) : placed(kind);
  const group = first && form.elements[first].closest(".group");
  if (group && isSecond(kind)) group.after(place);
  else if (group) group.before(place);
  else section.append(place);
  return place;
}

const isEntered = (kind) => {
  const field = form.elements.namedItem({ pack: "capacity_mah", charger: "charger_power_w", supply: "lead_length_m" }[kind]);
  return Boolean(field && field.value !== "");
};

function choose(kind, id, output) {
  pick(kind, id, output);
  const place = placeOf(kind);
  (place.querySelector(isSecond(kind) ? ".own-picked button, summary" : ".own-picked button") ?? form.querySelector(".entry:not([hidden]) [name]")).focus();
}

/** What a picked thing says is not asked again, but for what it leaves open and for what was found wrong in it. */
function hideLabel(kind, thing) {
  for (const [name, text] of Object.entries(textsOf(kind, thing ?? { entries: {} }, picked()[outputName(kind)]))) {
    const entry = form.elements.namedItem(name)?.closest(".entry");
    if (!entry) continue;
    const isFolded = entry.closest(".group").matches("details:not([data-kept])"); // may be known, and stays to be looked at
    const isSaid = FACTS[kind]?.names.includes(name) ? entryText(form.elements[name]) !== "" : text !== ""; // a second output may be another charger's
    entry.toggleAttribute("data-own", Boolean(thing) && !isFolded && isSaid);
  }
}
