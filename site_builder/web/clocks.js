// How much time has passed, by the two clocks of a phone: the one on the wall, which somebody can set, and the one that only runs on,
// which stands still while the phone sleeps. The larger of what they say counts, so no reading lives longer by a clock that was moved.

import * as kept from "./kept.js";
import { isGroup, isNumber } from "./shapes.js";

const LOOK_EVERY_MS = 10_000;
const KEEP_EVERY_MS = 60_000;
const SET_RIGHT_MS = 10_000; // phones set their clocks by a few seconds now and then: less than this is no clock that went back

// seen: the wall clock when it was last looked at; doubtUntil: the latest that it had shown before it went back
export const CLOCK = {
  name: "clock",
  version: 1,
  called: "what it knows of its clock",
  isQuiet: true,
  fits: (value) => isGroup(value) && isNumber(value.seen) && isNumber(value.doubtUntil),
  onDamage: () => hears.forEach((hear) => hear(0)),
};

const starts = new Map(); // moment -> what both clocks said when this document first knew of it
const hears = [];
let seen = 0; // the latest that the wall clock has shown in this document

/** Returns how many milliseconds have passed since a moment of the wall clock, by the larger of both clocks; below 0 before it. */
export function since(moment) {
  const wall = Date.now() - moment;
  if (!starts.has(moment)) starts.set(moment, { wall, running: performance.now() });
  const begun = starts.get(moment);
  return Math.max(wall, begun.wall + performance.now() - begun.running);
}

/** Returns how much is left until a moment, by the smaller of what both clocks say. */
export const left = (moment) => -since(moment);

/** A moment that this phone did not note itself means nothing if the clock has been set back over it, or if it is still to come. */
export const isDoubtful = (moment) => moment > Date.now() + SET_RIGHT_MS || moment <= (kept.read(CLOCK)?.doubtUntil ?? 0);

/** Calls `hear` with the milliseconds by which the wall clock went back, 0 if that is not known. */
export const hearOfGoingBack = (hear) => hears.push(hear);

/** Returns a moment as far ahead as both clocks last left it, or as far behind, where the clock went back by so much. */
export const movedBack = (moment, by) => Date.now() + Math.min(left(moment), moment - Date.now() - by);

/** Looks at the clock from now on: at each return to the page, and every few seconds. */
export function start() {
  kept.hearOf(CLOCK, () => (seen = 0)); // another tab has found that it went back, and said so
  look();
  for (const kind of ["pageshow", "focus"]) addEventListener(kind, look);
  document.addEventListener("visibilitychange", look);
  document.addEventListener("resume", look);
  setInterval(look, LOOK_EVERY_MS);
}

/** Looks whether the clock went back, and has the page look at what has grown old. */
export function look() {
  const now = Date.now();
  const { seen: keptAsSeen, doubtUntil } = kept.read(CLOCK) ?? { seen: 0, doubtUntil: 0 };
  const latest = Math.max(seen, keptAsSeen);
  const back = latest - now;
  if (back > SET_RIGHT_MS) {
    seen = now;
    kept.keep(CLOCK, { seen, doubtUntil: Math.max(latest, doubtUntil) });
    for (const hear of hears) hear(back);
  } else {
    seen = Math.max(latest, now);
    if (document.hidden || seen - keptAsSeen > KEEP_EVERY_MS) kept.keep(CLOCK, { seen, doubtUntil });
  }
  document.dispatchEvent(new CustomEvent("fieldslate:look"));
}
