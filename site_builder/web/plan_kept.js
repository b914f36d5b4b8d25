// The plan that is followed, as this phone keeps it: its lines with their hours and how far each is, and the entries that it was made of.

import { hearOfGoingBack, left, movedBack } from "./clocks.js";
import * as kept from "./kept.js";
import { at } from "./page_parts.js";
import { isGroup, isGroupOf, isListOf, isNumber, isText, isYesOrNo } from "./shapes.js";

export const WAITING = "waiting";
export const ON = "on";
export const DONE = "done";

/** `page` has the plan; `entries` are name -> [text, moment]; `own` has the ids of one's own chargers and supplies that they are of, by kind,
 *  with the output that was picked; plans of before that was kept have none. `until` is when all must be ready, or null; `asked` the line that "Put on"
 *  was tapped on last, and when, or null. `oneAtATime`: a line begins once the one before has ended, on whichever output; plans of before
 *  that was said have none. Null stands there once none is followed: what is only gone, this phone has lost. */
export const PLAN = {
  name: "followed-plan",
  version: 1,
  called: "the plan that you follow",
  fits: (value) =>
    value === null ||
    (isGroup(value) &&
      isText(value.page) &&
      isNumber(value.made) &&
      isGroupOf(value.entries, (one) => isListOf(one, (part) => isText(part) || isNumber(part))) &&
      (value.own === undefined || isGroupOf(value.own, isText)) &&
      (value.until === null || isNumber(value.until)) &&
      (value.oneAtATime === undefined || isYesOrNo(value.oneAtATime)) &&
      (value.asked === null || (isNumber(value.asked.turn) && isNumber(value.asked.at))) &&
      isListOf(value.turns, isTurn)),
};

kept.hearOf(PLAN, tell);

// What is planned stays as far ahead as both clocks last left it, and what is past as far behind.
hearOfGoingBack((by) => {
  const plan = followed();
  if (!plan) return;
  const moved = (moment) => movedBack(moment, by);
  for (const turn of plan.turns) for (const hour of ["begin", "ready", "latest"]) turn[hour] = moved(turn[hour]);
  plan.made = moved(plan.made);
  if (plan.until !== null) plan.until = moved(plan.until);
  if (plan.asked) plan.asked.at = moved(plan.asked.at);
  keepPlan(plan);
});

function tell() {
  document.dispatchEvent(new CustomEvent("fieldslate:plan"));
}

export const followed = () => kept.read(PLAN);
export const keepPlan = (plan) => kept.keep(PLAN, plan).finally(tell);
export const dropPlan = () => kept.keep(PLAN, null).finally(tell);

/** Says whether a line must have ended before another one begins: one of its output or of that which it waits for, or any where they go on
 *  one at a time. */
const mustEnd = ({ oneAtATime }, one, next) => oneAtATime || one.output === next.output || one.output === next.waitsFor;

/** When a line is to be begun with: at its hour, but not before what it waits for is ready. What waits for the power of the other output is
 *  put on meanwhile. */
export function beginOf(plan, turn) {
  const before = plan.turns.slice(0, plan.turns.indexOf(turn)).filter((other) => other.state !== DONE && mustEnd(plan, other, turn));
  const meanwhile = ({ output }) => (plan.oneAtATime || output === turn.output ? 0 : (turn.putOn ?? 0));
  return Math.max(turn.begin, ...before.map((other) => other.ready - meanwhile(other)));
}

/** Says whether a line is the next on its output, or of all where they go on one at a time. */
export const isNext = (plan, turn) => plan.turns.find((other) => other.state === WAITING && mustEnd(plan, other, turn)) === turn;

const isLate = ({ state, latest }) => state === ON && left(latest) <= 0;

/** The lines that are due: the next on an output whose hour has come, what is ready with nothing to follow, and what is late. */
function due(plan = followed()) {
  if (!plan) return [];
  const hasNext = ({ output }) => plan.turns.some((turn) => turn.output === output && turn.state === WAITING);
  return plan.turns.filter((turn) => {
    if (turn.looked || turn.state === DONE) return false;
    if (turn.state === ON) return isLate(turn) || (!hasNext(turn) && left(turn.ready) <= 0);
    return isNext(plan, turn) && left(beginOf(plan, turn)) <= 0;
  });
}

/** What calls: the lines that are due. */
export const callsOfPlan = () =>
  due().map((turn) => {
    const { begin, output, state, ready, words } = turn;
    const title = state === ON ? `Output ${output} is ready` : `Output ${output}: ${words}`;
    const look = () => {
      const plan = followed();
      for (const one of plan.turns) if (one.output === output && one.begin === begin) one.looked = true;
      return keepPlan(plan); // the alarm stands until it is on the disk
    };
    const says = isLate(turn) ? "later than the latest hour of the plan. Look, and plan again." : `since ${at(state === ON ? ready : beginOf(followed(), turn))} by the plan.`;
    return { name: `${output} ${begin} ${state} ${isLate(turn)}`, title, says, look };
  });

/** A line goes on now, or at a moment: its hours move along, and what was on its output is done. */
export function putOn(plan, turn, moment = Date.now()) {
  for (const other of plan.turns) if (other !== turn && other.output === turn.output && other.state === ON) other.state = DONE;
  const later = moment - turn.begin;
  Object.assign(turn, { state: ON, looked: false, begin: moment, ready: turn.ready + later, latest: turn.latest + later });
}

/** `ids` are of one's own packs, or empty; `card` is that which runs, or empty; `waitsFor` is the other output that must be ready before
 *  it starts, or empty, and `putOn` how long it takes until then; plans of before that was said have neither. */
function isTurn(value) {
  return (
    isGroup(value) &&
    isListOf(value.packs, isText) &&
    isListOf(value.ids, isText) &&
    [value.output, value.page, value.words, value.card].every(isText) &&
    (value.waitsFor === undefined || isText(value.waitsFor)) &&
    (value.putOn === undefined || isNumber(value.putOn)) &&
    [value.begin, value.ready, value.latest].every(isNumber) &&
    [WAITING, ON, DONE].includes(value.state) &&
    isYesOrNo(value.looked)
  );
}
