// The timers of the steps of a card: started and stopped here, counted down and called by card_watch.js.

import { at, make, makeButton, minutesAndSeconds, write } from "./page_parts.js";
import { beat } from "./card_watch.js";

const A_MINUTE_MS = 60_000;

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

  const runs = () => card.timers[key]?.ends > Date.now();

  function turn() {
    if (runs()) delete card.timers[key];
    else card.timers[key] = { title, ends: Date.now() + Number(place.dataset.minutes) * A_MINUTE_MS, looked: false };
    keep();
    beat();
  }

  return function show() {
    const timer = card.timers[key];
    const isUp = Boolean(timer) && !runs();
    write(count, !timer ? "" : isUp ? `Time was up at ${at(timer.ends)}` : minutesAndSeconds(timer.ends - Date.now()));
    write(button, !timer ? "Start timer" : isUp ? "Start timer again" : "Stop timer");
    button.setAttribute("aria-label", `${button.textContent}: ${title}`);
  };
}
