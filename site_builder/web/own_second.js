// A plan may ask a second charger and its supply. Each is one of those that are kept here, picked for the names by which the form asks it.

import { FACTS } from "./own_words.js";

/** What picking one `chooses` on the form, and the names by which the form asks it, with those of the first. */
const SECOND = {
  second_charger: { kind: "charger", chooses: { charger_outputs: "2", second_charger: "another" }, names: { ...FACTS.secondOutput, ...FACTS.secondCharger } },
  second_supply: { kind: "supply", chooses: { second_supply: "own" }, names: FACTS.secondSupply },
};

export const SECONDS = Object.keys(SECOND);
export const isSecond = (kind) => kind in SECOND;

/** The kind of thing that is picked: a second charger is a charger. */
export const thingKind = (kind) => SECOND[kind]?.kind ?? kind;

/** By which name the output of a charger is kept that is picked. */
export const outputName = (kind) => (kind === "second_charger" ? "second_output" : "output");

/** The names of what is read of a thing, and is emptied when another is picked. */
export function readingsOf(kind) {
  const { readings } = FACTS[thingKind(kind)];
  return isSecond(kind) ? Object.entries(SECOND[kind].names).filter(([, first]) => readings.includes(first)).map(([name]) => name) : readings;
}

/** Returns what a second thing puts into the entries, by name: `textOf` has its own by the names of the first. Nothing where it `isNone`. */
export function secondTexts(kind, textOf, isNone) {
  const { chooses, names } = SECOND[kind];
  const chosen = Object.entries(chooses).map(([name, option]) => [name, isNone ? "" : option]);
  return Object.fromEntries([...chosen, ...Object.entries(names).map(([name, first]) => [name, textOf(first)])]);
}

/** The name of the first of what is asked of a second thing, which is its place on the form. */
export const firstNameOf = (kind) => Object.keys(SECOND[kind].names)[0];
