// The timers of the steps of a card: started and stopped here, counted down and called by card_watch.js.

import { cardOf, keepCards, timerOf } from "./card_kept.js";
import { beat } from "./card_watch.js";
import { left } from "./clocks.js";
import { at, make, makeButton, minutesAndSeconds, write } from "./page_parts.js";
import { SECOND_TAP_MS, secondTaps } from "./second_taps.js";

/** Begins or ends the timers that the tick of a step begins or ends, or takes that back. Nothing is kept here. */
export function turnTimers(card, step, steps, isTicked) {
  const { starts = "", stops = "" } = step.dataset;
  for (const key of starts.split(" ").filter(Boolean)) {
    const other = steps.find(({ dataset }) => dataset.step === key);
    if (isTicked && other?.querySelector(".timer")) card.timers[key] ??= timerIn(other);
    else delete card.timers[key];
  }
  if (!isTicked) return;
  const own = card.timers[step.dataset.step];
  if (own && !own.every && !("onTop" in step.dataset)) delete card.timers[step.dataset.step]; // what it was for is done
  for (const key of stops.split(" ")) delete card.timers[key];
}

function timerIn(step) {
  const { minutes, repeats } = step.querySelector(".timer").dataset;
  return timerOf(step.querySelector(".step-title").textContent, Number(minutes), repeats !== undefined, "onTop" in step.dataset);
}

/** Gives a timed step that is shown its timer, and returns what shows how far it is. `step` is as it stands in the card. */
export function makeTimer(place, id, step) {
  const key = step.dataset.step;
  const count = make("span", { class: "timer-count", role: "timer", "aria-live": "off" });
  const button = makeButton("", turn);
  place.replaceChildren(count, button);

  const timerNow = () => cardOf(id)?.timers[key];
  const runs = () => Boolean(timerNow()) && left(timerNow().ends) > 0;

  const shown = performance.now(); // by the clock that nobody can set
  const isSecondTap = secondTaps(); // it would stop what the first has started
  let isBeingKept = false;

  async function turn() {
    const isOfTick = runs() && performance.now() - shown < SECOND_TAP_MS; // which has started it just now
    if (isOfTick || isSecondTap()) return;
    const { timers } = cardOf(id);
    if (runs()) delete timers[key];
    else timers[key] = timerIn(step);
    isBeingKept = true; // it is on the disk before it counts
    await keepCards();
    isBeingKept = false;
    beat();
  }

  return function show() {
    if (isBeingKept) return;
    const timer = timerNow();
    const isUp = Boolean(timer) && !runs();
    write(count, !timer ? "" : isUp ? `Time was up at ${at(timer.ends)}` : minutesAndSeconds(left(timer.ends)));
    write(button, !timer ? "Start timer" : isUp ? "Start timer again" : "Stop timer");
    button.setAttribute("aria-label", `${button.textContent}: ${step.querySelector(".step-title").textContent}`);
  };
}
