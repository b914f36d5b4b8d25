// The cards that run side by side, one list for all pages and tabs, as this phone keeps it; and those that ended in the last minute,
// since an end can be taken back.

import { hearOfGoingBack, movedBack, since } from "./clocks.js";
import * as kept from "./kept.js";
import { isGroup, isGroupOf, isListOf, isNumber, isText, isYesOrNo } from "./shapes.js";
import { parsed } from "./trusted.js";

const A_MINUTE_MS = 60_000;
export const MOST_OUTPUTS = 8;
const A_PAGE = /^[a-z0-9-]+$/;

const CALLED = "the cards that were running";
export const CARDS = { name: "running-cards", version: 1, called: CALLED, fits: isState };
/** What was kept before several could run: one card. */
export const ONE_CARD = { name: "running-card", version: 1, called: CALLED, fits: isOneCard };

const state = () => kept.read(CARDS) ?? { running: [], ended: [] };
const keep = (running, ended = state().ended) => kept.keep(CARDS, { running, ended: ended.filter(isFresh) });
/** Returns the milliseconds in which an end can be taken back still. */
export const leftToTakeBack = (at) => A_MINUTE_MS - since(at);
const isFresh = ({ at }) => leftToTakeBack(at) > 0;

export const runningCards = () => state().running;
export const cardOf = (id) => runningCards().find((card) => card.id === id) ?? null;
/** Those whose end can be taken back still, the last one first. */
export const endedCards = () => state().ended.filter(isFresh).reverse();
export const addressOf = ({ id }) => `cards.html?card=${id}`;

/** Keeps a card that begins, and says once it is on the disk whether it is. */
export const beginCard = (card) => keep([...runningCards(), card]);
/** The same, once any of them has changed. */
export const keepCards = () => keep(runningCards());
/** The same for one that ends: it is there for a minute still. */
export const endCard = (card) => keep(runningCards().filter(({ id }) => id !== card.id), [...state().ended, { card, at: Date.now() }]);
/** The same for one whose end is taken back. */
export const takeBack = (card) => keep([...runningCards(), card], state().ended.filter((one) => one.card.id !== card.id));

/** Takes over the one card of a former version. */
export function takeOverOneCard() {
  const card = kept.read(ONE_CARD);
  if (!card) return;
  kept.forget(ONE_CARD);
  // Nobody knows what it has charged.
  beginCard({ ...card, id: newId(card.started), name: "", packs: [], label: "", output: null, changesPack: true, readings: "", times: {}, counts: {} });
}

export function newId(started) {
  const taken = [...runningCards(), ...state().ended.map(({ card }) => card)].map(({ id }) => id);
  let id = started;
  while (taken.includes(String(id))) id += 1;
  return String(id);
}

/** Returns the output that is wanted, or else the lowest, at which no card runs. */
export function freeOutput(wanted) {
  const isFree = (output) => runningCards().every((card) => card.output !== output);
  const outputs = Array.from({ length: MOST_OUTPUTS }, (_, place) => place + 1);
  return outputs.find((output) => String(output) === wanted && isFree(output)) ?? outputs.find(isFree) ?? MOST_OUTPUTS;
}

/** What a card is called before the pilot: its pack if that has a name, else its own title; and its output where several run. */
export function nameOf(card) {
  const name = card.name || card.title;
  return card.output && runningCards().length > 1 ? `${name}, output ${card.output}` : name;
}

/** Returns the pilot's own packs of a card, each with its id and what was read of it. A former version kept one pack: of a card of several
 *  it was one that had been picked elsewhere, and null is returned. */
export function ownPacksOf({ packs, pack, read, html }) {
  if (packs) return packs;
  const isOfSeveral = parsed(html).querySelectorAll(".card-packs p").length > 1;
  return isOfSeveral ? null : [{ id: pack, read: read ?? {} }];
}

/** Returns a timer that begins now. One that repeats begins anew at each look; one on top is the time left of the whole card. */
export const timerOf = (title, minutes, repeats, isOnTop) => ({
  title,
  ends: Date.now() + minutes * A_MINUTE_MS,
  looked: false,
  ...(repeats && { every: minutes }),
  ...(isOnTop && { isOnTop }),
});

// A timer goes on with what both clocks last left of it, and what is past, a tick or an end say, lies as far behind.
hearOfGoingBack((by) => {
  const moved = (moment) => movedBack(moment, by);
  const { running, ended } = state();
  for (const card of [...running, ...ended.map((one) => one.card)]) {
    card.times = Object.fromEntries(Object.entries(card.times).map(([key, moment]) => [key, moved(moment)]));
    for (const timer of Object.values(card.timers)) timer.ends = moved(timer.ends);
  }
  for (const card of running) card.started = moved(card.started); // of one that has ended a log has the line by it
  for (const one of ended) one.at = moved(one.at);
  if (running.length || ended.length) keepCards();
});

function isState(value) {
  return isGroup(value) && isListOf(value.running, isCard) && isListOf(value.ended, (one) => isGroup(one) && isCard(one.card) && isNumber(one.at));
}

/** Its packs in `name`, `label` and, if they are the pilot's own, in `packs`, each with its id, what was `read` of it, and its `label`; whether it
 *  `isOfSeveral`; `output` of the charger or null, `readings` that it was started with, the id of its `supply`, as what its end `logs` it,
 *  `times` of the ticks, what was typed to be `logged` of each pack by its id: all that survives a reload. A former version kept one pack at most, in `pack` and `read`. */
function isCard(value) {
  return (
    isOneCard(value) &&
    [value.id, value.name, value.label, value.readings].every(isText) &&
    (value.output === null || isNumber(value.output)) &&
    isYesOrNo(value.changesPack) &&
    isGroupOf(value.times, isNumber) &&
    isGroupOf(value.counts, isText) &&
    (value.supply === undefined || isText(value.supply)) &&
    (value.packs === undefined || isListOf(value.packs, (one) => isGroup(one) && isText(one.id) && isGroupOf(one.read, isText) && (one.label === undefined || isGroupOf(one.label, isText)))) &&
    (value.isOfSeveral === undefined || isYesOrNo(value.isOfSeveral)) &&
    (value.pack === undefined || isText(value.pack)) &&
    (value.read === undefined || isGroupOf(value.read, isText)) &&
    (value.logs === undefined || isText(value.logs)) &&
    (value.logged === undefined || isGroupOf(value.logged, (typed) => isGroupOf(typed, isText)))
  );
}

function isOneCard(value) {
  return (
    isGroup(value) &&
    isText(value.page) &&
    A_PAGE.test(value.page) &&
    [value.title, value.html].every((text) => isText(text) && text !== "") &&
    isNumber(value.started) &&
    isListOf(value.ticked, isText) &&
    isGroupOf(value.notes, isText) &&
    isGroupOf(value.timers, isTimer) &&
    isYesOrNo(value.silent)
  );
}

/** `every` are the minutes after which it calls again, where it does. */
function isTimer(value) {
  return isGroup(value) && isText(value.title) && isNumber(value.ends) && isYesOrNo(value.looked) && (value.every === undefined || isNumber(value.every));
}
