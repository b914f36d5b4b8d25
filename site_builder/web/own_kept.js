// The pilot's own packs, chargers and supplies, kept on this phone by name, and which of them is picked. What is kept of a thing is text as
// it was typed, by the names that the calculators ask by; a pack's last state is beside it, and never among it.

import { hearOfGoingBack, movedBack } from "./clocks.js";
import * as kept from "./kept.js";
import { FACTS } from "./own_words.js";
import { isGroup, isGroupOf, isListOf, isNumber, isText } from "./shapes.js";

const CALLED = { pack: "your packs", charger: "your chargers", supply: "your supplies" };
const STATES = Object.values(FACTS.states).flat();

/** By kind of thing: a list of {id, name, entries, dates}; `dates` are the days on which what is dated was measured. A pack also has
 *  `state` and `refused`, each text and a moment, where they are known; `checked` is when its cells were last checked, `fromLog` names what its log measured last, and `records` are those of
 *  ended cards that a former version kept here. */
export const LISTS = Object.fromEntries(
  Object.entries(CALLED).map(([kind, called]) => [kind, { name: `own ${kind}`, version: 2, called, eachFits: isThing }]),
);
/** Kind of thing -> the id of the one that is picked; `output` is the number of the charger's. */
export const PICKED = { name: "picked", version: 1, called: "which pack you picked", isQuiet: true, fits: (value) => isGroupOf(value, isText) };

for (const record of [...Object.values(LISTS), PICKED]) kept.hearOf(record, tellOfChange);

/** Tells the page that is open that something of this has changed, here or in another tab. */
export function tellOfChange() {
  document.dispatchEvent(new CustomEvent("fieldslate:own"));
}

// How long ago something was, and at which hour, is said anew once it is another day, or the phone is somewhere else: by a page that is seen,
// since the first page takes what it shows as told.
const dayHere = () => `${new Date().toDateString()} ${new Date().getTimezoneOffset()}`;
let saidOn = dayHere();
document.addEventListener("fieldslate:look", () => {
  if (document.hidden || saidOn === dayHere()) return;
  saidOn = dayHere();
  tellOfChange();
});

export const things = (kind) => kept.read(LISTS[kind]) ?? [];
export const thingOf = (kind, id) => things(kind).find((one) => one.id === id) ?? null;
/** A page that came over plain http has no `crypto.randomUUID`. */
export const newId = () => Array.from(crypto.getRandomValues(new Uint32Array(4)), (part) => part.toString(16).padStart(8, "0")).join("-");

/** Keeps what is entered of a thing with the one that has its id, or adds it with what was known `before`, and says whether it is on the disk.
 *  What was noted meanwhile of the one that is kept, that it is out of use say, stays. */
export const save = (kind, thing, before = {}) =>
  change(kind, (all) => (all.some(({ id }) => id === thing.id) ? all.map((one) => (one.id === thing.id ? { ...one, ...thing } : one)) : [...all, { ...before, ...thing }]));

/** Takes things out, `ids` being theirs by kind, and returns what puts each back where it stood: what was changed or added since stays. */
export async function takeOut(ids) {
  const out = {};
  const eachKind = (act) => changeTogether(Object.fromEntries(Object.keys(ids).map((kind) => [kind, (all) => act(kind, all)])));
  await eachKind((kind, all) => {
    const isOut = ({ id }) => ids[kind].includes(id);
    out[kind] = [...all.entries()].filter(([, one]) => isOut(one));
    return all.filter((one) => !isOut(one));
  });
  const putIn = (all, [place, thing]) => (all.some(({ id }) => id === thing.id) ? all : [...all.slice(0, place), thing, ...all.slice(place)]);
  return () => eachKind((kind, all) => out[kind].reduce(putIn, all));
}

/** Changes what is kept of one thing beside its entries; a thing that is gone stays gone. */
export const note = (kind, id, changes) => change(kind, (all) => all.map((one) => (one.id === id ? { ...one, ...changes } : one)));

export const noteState = (id, word) => note("pack", id, { state: [word, Date.now()] });

export const picked = () => kept.read(PICKED) ?? {};
export const keepPicked = (which) => kept.keep(PICKED, which).finally(tellOfChange);

/** Notes the same at once, for a page that is being left: it has no time to look at what another tab has changed. */
export const noteNow = (kind, id, changes) => kept.keep(LISTS[kind], things(kind).map((one) => (one.id === id ? { ...one, ...changes } : one)));

const change = (kind, act) => changeTogether({ [kind]: act });

export const LISTS_IN_TURN = "lists";

/** Does something while no other tab does anything of that name. A browser that keeps nothing for a site may have no locks for it either. */
export async function inTurn(name, options, act) {
  let isBegun = false;
  const begin = () => {
    isBegun = true;
    return act();
  };
  if (!navigator.locks) return act();
  try {
    return await navigator.locks.request(`fieldslate ${name}`, options, begin);
  } catch (fault) {
    if (isBegun) throw fault;
    return act();
  }
}

/** Changes several lists in one go, each by what the act of its kind makes of it, and says whether they are on the disk: whoever leaves the
 *  page meanwhile has all of it or nothing. Another tab may have changed a list since it was read here, and none does so meanwhile. */
export async function changeTogether(acts) {
  const areKept = inTurn(LISTS_IN_TURN, {}, async () => {
    await Promise.all(Object.keys(acts).map((kind) => kept.refresh(LISTS[kind])));
    return Promise.all(Object.entries(acts).map(([kind, act]) => kept.keep(LISTS[kind], act(things(kind)))));
  });
  navigator.storage?.persist?.(); // a browser that is short of room takes what is not persistent
  return (await areKept.finally(tellOfChange)).every(Boolean);
}

// What was noted while the clock was ahead lies as far behind as it did then: still to come, nothing of it would be due until that day. Every
// number that is kept of a thing is a moment, and the same one stays the same.
hearOfGoingBack((by) => {
  const now = Date.now();
  const known = new Map();
  const moved = (moment) => known.set(moment, known.get(moment) ?? Math.min(now, Math.round(movedBack(moment, by)))).get(moment);
  const isAhead = (value) => isNumber(value) && value > now;
  const behind = (thing) => JSON.parse(JSON.stringify(thing), (_, value) => (isAhead(value) ? moved(value) : value));
  for (const [kind, list] of Object.entries(LISTS)) {
    const all = things(kind).map(behind);
    // In the write that has what is known of the clock: the page may be left just now.
    if (JSON.stringify(all) !== JSON.stringify(things(kind))) kept.keep(list, all).finally(tellOfChange);
  }
});

const isDated = (value) => isListOf(value, (part) => isText(part) || isNumber(part)) && isText(value[0]) && isNumber(value[1]);

const isState = (value) => isDated(value) && STATES.includes(value[0]);
/** How a pack was left before a card that ended at a moment, and said it anew. */
const isBefore = (value) => isGroup(value) && isText(value.card) && isNumber(value.ended) && (value.state === null || isState(value.state));

function isThing(value) {
  return (
    isGroup(value) &&
    [value.id, value.name].every((text) => isText(text) && text !== "") &&
    isGroupOf(value.entries, isText) &&
    isGroupOf(value.dates, isNumber) &&
    (value.state === undefined || isState(value.state)) &&
    (value.before === undefined || isBefore(value.before)) &&
    (value.checked === undefined || isNumber(value.checked)) &&
    (value.fromLog === undefined || isListOf(value.fromLog, isText)) &&
    (value.refused === undefined || value.refused === null || isDated(value.refused)) &&
    (value.records === undefined || isListOf(value.records, (one) => isGroup(one) && isNumber(one.ended) && isListOf(one.lines, isText)))
  );
}
