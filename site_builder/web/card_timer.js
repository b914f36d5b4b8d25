// The timers of the steps of a card: started and stopped here, counted down and called by card_watch.js.

import { at, make, makeButton, minutesAndSeconds, write } from "./page_parts.js";
import { timerOf } from "./card_kept.js";
import { beat } from "./card_watch.js";
import { left } from "./clocks.js";

/** Gives each timed step of `body` its timer, and returns what shows how far all of them are. */
export function makeTimers(card, body, keep) {
  const shows = Array.from(body.querySelectorAll(".timer"), (place) => timerAt(place, card, keep));
  return () => shows.forEach((show) => show());
}

function timerAt(place, card, keep) {
  const step = place.closest(".step");
  const key = step.dataset.step;
  const title = step.querySelector(".step-title").textContent;
  const count = make("span", { class: "timer-count", role: "timer", "aria-live": "off" });
  const button = makeButton("", turn);
  place.append(" ", count, " ", button);

  const { minutes, repeats } = place.dataset;
  const runs = () => Boolean(card.timers[key]) && left(card.timers[key].ends) > 0;

  let isBeingKept = false;

  async function turn() {
    if (runs()) delete card.timers[key];
    else card.timers[key] = timerOf(title, Number(minutes), repeats !== undefined);
    isBeingKept = true; // it is on the disk before it counts
    await keep();
    isBeingKept = false;
    beat();
  }

  return function show() {
    if (isBeingKept) return;
    const timer = card.timers[key];
    const isUp = Boolean(timer) && !runs();
    write(count, !timer ? "" : isUp ? `Time was up at ${at(timer.ends)}` : minutesAndSeconds(left(timer.ends)));
    write(button, !timer ? "Start timer" : isUp ? "Start timer again" : "Stop timer");
    button.setAttribute("aria-label", `${button.textContent}: ${title}`);
  };
}
