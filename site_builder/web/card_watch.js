// The running cards and the plan that is followed, wherever the pilot is: timers and lines that are due call on every page, the bar says what
// is left, and the first page names each card.

import { alarms, showAlarms } from "./alarms.js";
import { addressOf, cardOf, CARDS, keepCards, nameOf, runningCards, timerOf } from "./card_kept.js";
import { keepScreenOn, letScreenGo } from "./card_screen.js";
import { beep, endSound, resumeSound, wakeSound } from "./card_sound.js";
import { placeOf, timeLeft } from "./card_time.js";
import { left } from "./clocks.js";
import { hearOf } from "./kept.js";
import { tellCalls } from "./notices.js";
import { at, make, write } from "./page_parts.js";
import { callsOfPlan, followed } from "./plan_kept.js";
import { tapHasBegun } from "./taps.js";

const BEAT_MS = 500;
const CALL_EVERY_MS = 2_000;
const VIBRATION_MS = [300, 200, 300];
const FIRST_PAGE = "index";

const lines = make("section", { class: "card-lines", "aria-label": "Running cards" });
const inBar = make("span", { class: "bar-time", role: "timer", "aria-live": "off" });

let showTimes = () => {}; // the page of cards shows how far the timers are
let pulse = null;
let lastCall = -Infinity; // by the clock that nobody can set

export function start() {
  document.body.append(alarms);
  hearOf(CARDS, changedElsewhere);
  document.addEventListener("fieldslate:look", wake);
  cardsChanged();
}

/** A page that slept has called nobody. */
function wake() {
  if (document.hidden) return;
  if (runningCards().length || followed()) {
    resumeSound();
    keepScreenOn();
  }
  beat();
}

/** Puts what is left into the bar of the page that has come, and the cards' names onto the first page. */
export function arrive() {
  document.querySelector('.bottom a[href="cards.html"]')?.append(inBar);
  if (document.body.dataset.page === FIRST_PAGE) document.querySelector("main").prepend(lines);
  else lines.remove();
  beat();
}

/** Tells how the page of cards shows its timers, at each beat. */
export function showAtEachBeat(show) {
  showTimes = show;
  beat();
}

/** Begins to watch what runs, or ends it with the last card. */
export function cardsChanged() {
  const areRunning = runningCards().length > 0;
  const isWatched = areRunning || followed() !== null;
  clearInterval(pulse);
  pulse = setInterval(() => tapHasBegun() || beat(), BEAT_MS); // an alarm under a finger would take the tap from what it covers
  lines.replaceChildren(...runningCards().map(lineOf));
  beat();
  document.dispatchEvent(new CustomEvent("fieldslate:card-runs", { detail: areRunning })); // offline.js holds a new version back
  if (isWatched) {
    document.addEventListener("click", wakeSound); // after a reload any tap will do
    keepScreenOn();
    return;
  }
  clearInterval(pulse);
  document.removeEventListener("click", wakeSound);
  endSound();
  letScreenGo();
}

function changedElsewhere() {
  cardsChanged();
  document.dispatchEvent(new CustomEvent("fieldslate:cards"));
}

export function beat() {
  const cards = runningCards();
  const calling = [...cards.flatMap(callsOf), ...callsOfPlan()];
  showTimes();
  showAlarms(calling, beat);
  tellCalls(calling);
  for (const line of lines.children) showLine(line);
  const [soonest] = cards.map(timeLeft).filter(Boolean).sort((one, other) => one.ms - other.ms);
  write(inBar, soonest?.words ?? "");
  if (!calling.length || performance.now() - lastCall < CALL_EVERY_MS) return;
  lastCall = performance.now();
  if (calling.some(({ isSilent }) => !isSilent)) beep();
  navigator.vibrate?.(VIBRATION_MS);
}

/** The timers of a card that are up. */
function callsOf({ id, timers, silent }) {
  return Object.entries(timers)
    .filter(([, { ends, looked }]) => left(ends) <= 0 && !looked)
    .map(([key, { title, ends, every }]) => {
      const whose = runningCards().length > 1 ? `${nameOf(cardOf(id))}: ` : "";
      return { name: `${id} ${key}`, title: `${whose}${title}`, says: `time was up at ${at(ends)}. Look now.`, isSilent: silent, look };

      async function look() {
        const card = cardOf(id);
        if (every) card.timers[key] = timerOf(title, every, true);
        else card.timers[key].looked = true;
        await keepCards(); // the alarm stands until it is on the disk
        document.getElementById("card-now-title")?.focus();
      }
    });
}

function lineOf(card) {
  const line = make("a", { class: "card-line", href: addressOf(card), "data-card-id": card.id });
  line.append(make("b", {}, nameOf(card)), make("span", { class: "card-place" }), make("span", { class: "time-left", role: "timer", "aria-live": "off" }));
  showLine(line);
  return line;
}

function showLine(line) {
  const card = cardOf(line.dataset.cardId);
  if (!card) return;
  write(line.querySelector(".card-place"), placeOf(card));
  write(line.querySelector(".time-left"), timeLeft(card)?.words ?? "");
}
