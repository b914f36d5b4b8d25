// One of the pilot's own things as a calculator's page shows it: the line of what is picked, and the buttons to pick by.

import { listed, make, makeButton } from "./page_parts.js";
import { asksBothOutputs, outputWords, pickedThing } from "./own_picked.js";
import { thingKind } from "./own_second.js";
import { FACTS, lineOf, measuredOf, outputNumbers, refusalOf, stateOf } from "./own_words.js";

const WORDS = {
  pack: { which: "Pick one of my packs", other: "Another pack, by its label", page: "my-packs.html" },
  charger: { which: "Pick one of my chargers", other: "Another charger, by its label", page: "my-chargers.html" },
  supply: { which: "Pick one of my supplies", other: "Another supply", page: "my-supplies.html" },
  second_charger: { which: "Charge on a second one of my chargers too", other: "One charger is enough", page: "my-chargers.html", said: "Second charger: " },
  second_supply: { which: "Give it a supply of its own: pick one of mine", other: "The same supply", page: "my-supplies.html", said: "Second supply: " },
};

const picksOneOutput = (form, kind) => kind === "second_charger" || (kind === "charger" && !asksBothOutputs(form));

/** Returns the line of what is picked; its button unfolds the chooser. */
export function lineOfPicked(form, kind, thing, chooser) {
  const change = makeButton("Change", () => {
    chooser.open = !chooser.open;
    if (chooser.open) chooser.querySelector("button").focus();
  });
  change.setAttribute("aria-label", `Change: ${thing.name}`);
  const says = listed([lineOf(thingKind(kind), thing), kind === "pack" ? stateOf(thing) : ""].filter(Boolean));
  const name = `${WORDS[kind].said ?? ""}${thing.name}${picksOneOutput(form, kind) ? outputWords(thing, kind) : ""}`;
  const line = make("div", { class: "own-picked" }, make("p", {}, make("b", {}, name), " ", make("span", {}, says)), change);
  const measured = kind === "pack" ? measuredOf(thing, FACTS.pack.dated.filter((asked) => form.elements.namedItem(asked))) : [];
  if (measured.length) line.append(make("p", { class: "own-measured" }, listed(measured)));
  if (kind === "pack" && thing.refused) line.append(make("p", { class: "own-refused" }, refusalOf(thing), " ", make("a", { href: "cell-check.html" }, "Open the cell check")));
  return line;
}

/** Returns all of a kind, to pick by one tap: folded away where something is entered. */
export function chooserOf(kind, thing, { tiles, isOpen, choose }) {
  const { which, other, page } = WORDS[kind];
  const fold = make("details", { class: "own-choose" }, make("summary", {}, which));
  fold.open = isOpen;
  fold.classList.toggle("unpicked", !thing);
  const list = make("ul", { class: "own-tiles" }, ...tiles);
  const others = make("p", { class: "own-others" }, make("a", { href: page }, `My ${FACTS.called[thingKind(kind)]}`));
  if (thing) others.prepend(makeButton(other, () => choose(kind, null)), " ");
  fold.append(list, others);
  return fold;
}

/** Returns a button for each output of a thing that can be picked, or for the whole of it. */
export function tilesOf(form, kind, thing, choose) {
  if (kind === "second_charger" && thing.id === pickedThing("charger")?.id) return [];
  const outputs = picksOneOutput(form, kind) ? outputNumbers(thing.entries) : ["1"];
  return outputs.map((output) => {
    const name = `${thing.name}${outputs.length > 1 ? `, output ${output}` : ""}`;
    const says = [make("b", {}, name), make("span", {}, lineOf(thingKind(kind), thing))];
    if (kind === "pack") says.push(make("span", {}, stateOf(thing)));
    const button = makeButton("", () => choose(kind, thing.id, output), { class: "own-tile" });
    button.append(...says);
    return make("li", {}, button);
  });
}
