// How far a card is, and how much time is left of what it waits for.

import { left } from "./clocks.js";
import { minutesAndSeconds } from "./page_parts.js";

/** Returns the names of a card's steps, in their order. They are in its HTML, which is read but once. */
export function keysOf(card) {
  if (!keys.has(card.html)) keys.set(card.html, Array.from(card.html.matchAll(/data-step="([^"]+)"/g), ([, key]) => key));
  return keys.get(card.html);
}
const keys = new Map();

/** Returns "step 14 of 22". */
export function placeOf(card) {
  const all = keysOf(card);
  const next = all.findIndex((key) => !card.ticked.includes(key));
  return next < 0 ? "every step is ticked" : `step ${next + 1} of ${all.length}`;
}

/** Returns {ms, words, key, title} of the timer that a card has on top, or else of that which is up first; null where none runs. */
export function timeLeft(card) {
  const timers = running(card).sort((one, other) => one.ms - other.ms);
  return timers.find(({ isOnTop }) => isOnTop) ?? timers[0] ?? null;
}

/** Returns the timers of a card that run. */
export function running(card) {
  return Object.entries(card.timers)
    .map(([key, { title, ends, isOnTop = false }]) => ({ key, title, isOnTop, ms: left(ends) }))
    .filter(({ ms }) => ms > 0)
    .map((one) => ({ ...one, words: minutesAndSeconds(one.ms) }));
}
