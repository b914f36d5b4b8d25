// The plan that is followed, as this phone keeps it: its lines with their hours and how far each is, and the entries that it was made of.
// A card that is started from a line carries the line along.

import { runningCards } from "./card_kept.js";
import { left } from "./clocks.js";
import * as kept from "./kept.js";
import { at } from "./page_parts.js";
import { isGroup, isGroupOf, isListOf, isNumber, isText, isYesOrNo } from "./shapes.js";

export const WAITING = "waiting";
export const ON = "on";
export const DONE = "done";

/** `page` has the plan; `entries` are name -> [text, moment]; `until` is when all must be ready, or null; `asked` the line that "Put on"
 *  was tapped on last, and when, or null. */
export const PLAN = {
  name: "followed-plan",
  version: 1,
  called: "the plan that you follow",
  fits: (value) =>
    isGroup(value) &&
    isText(value.page) &&
    isNumber(value.made) &&
    isGroupOf(value.entries, (one) => isListOf(one, (part) => isText(part) || isNumber(part))) &&
    (value.until === null || isNumber(value.until)) &&
    (value.asked === null || (isNumber(value.asked.turn) && isNumber(value.asked.at))) &&
    isListOf(value.turns, isTurn),
};

kept.hearOf(PLAN, tell);
document.addEventListener("fieldslate:card-runs", followCards);

function tell() {
  document.dispatchEvent(new CustomEvent("fieldslate:plan"));
}

export const followed = () => kept.read(PLAN);
export const keepPlan = (plan) => kept.keep(PLAN, plan).finally(tell);
export const dropPlan = () => kept.forget(PLAN).finally(tell);

/** The line that is on an output before another one, or null. */
const before = (turns, turn) => turns.slice(0, turns.indexOf(turn)).findLast(({ output }) => output === turn.output) ?? null;

/** When a line is to be begun with: at its hour, but not before what is on its output is ready. */
export function beginOf({ turns }, turn) {
  const last = before(turns, turn);
  return Math.max(turn.begin, last && last.state !== DONE ? last.ready : 0);
}

/** Says whether a line is the next on its output. */
export const isNext = ({ turns }, turn) => turns.find(({ output, state }) => output === turn.output && state === WAITING) === turn;

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

/** A card that was started from a line puts it on, and one that has ended takes it off. */
function followCards() {
  const plan = followed();
  if (!plan) return;
  const cards = runningCards();
  let isOther = false;
  const asked = plan.asked && plan.turns[plan.asked.turn];
  const started = asked && cards.find((one) => one.started >= plan.asked.at && plan.turns.every(({ card }) => card !== one.id));
  if (started) {
    putOn(plan, asked, started.started);
    asked.card = started.id;
    plan.asked = null;
    isOther = true;
  }
  for (const turn of plan.turns.filter(({ card }) => card)) {
    const runs = cards.some(({ id }) => id === turn.card);
    const state = runs ? ON : DONE;
    if (turn.state === state) continue;
    turn.state = state; // an end can be taken back
    isOther = true;
  }
  if (isOther) keepPlan(plan);
}

/** `ids` are of one's own packs, or empty; `card` is that which runs, or empty. */
function isTurn(value) {
  return (
    isGroup(value) &&
    isListOf(value.packs, isText) &&
    isListOf(value.ids, isText) &&
    [value.output, value.page, value.words, value.card].every(isText) &&
    [value.begin, value.ready, value.latest].every(isNumber) &&
    [WAITING, ON, DONE].includes(value.state) &&
    isYesOrNo(value.looked)
  );
}
