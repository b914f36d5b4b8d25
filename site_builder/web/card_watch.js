// The running card wherever the pilot is: its timers call on every page, and a line above the bar leads back to it.

import { offerEndOfGone } from "./card_gone.js";
import { addressOf, CARD, cardHere, keepCard, runningCard, takeKeptCard, timerOf } from "./card_kept.js";
import { keepScreenOn, letScreenGo } from "./card_screen.js";
import { beep, endSound, resumeSound, wakeSound } from "./card_sound.js";
import { left } from "./clocks.js";
import { hearOf } from "./kept.js";
import { at, make, makeButton, minutesAndSeconds, write } from "./page_parts.js";

const BEAT_MS = 500;
const CALL_EVERY_MS = 2_000;
const VIBRATION_MS = [300, 200, 300];

const count = make("span", { class: "timer-left", role: "timer", "aria-live": "off" });
const line = make("section", { class: "card-line", "aria-label": "Running card" });
const back = make("a", {}, "Running card");
line.append(back, count);
const alarms = make("section", { class: "card-alarms", "aria-label": "Timers that are up" });

let showSteps = () => {}; // the open card shows how far its timers are
let pulse = null;
let lastCall = -Infinity; // by the clock that nobody can set
let called = {}; // key of the step -> its alarm

export function start() {
  document.body.append(alarms);
  hearOf(CARD, changedElsewhere);
  document.addEventListener("fieldslate:look", wake);
  cardChanged();
}

/** A page that slept has called nobody and heard of nothing. */
async function wake() {
  if (document.hidden) return;
  if (runningCard()) {
    resumeSound();
    keepScreenOn();
  }
  beat();
  if (await takeKeptCard()) changedElsewhere();
}

/** Puts the line above the bar of the page that has come. */
export function arrive() {
  document.querySelector(".bottom").prepend(line);
  beat();
  offerEndOfGone(cardHere() ? null : runningCard(), cardChanged);
}

/** Tells how the open card shows its timers, at each beat. */
export function showAtEachBeat(show) {
  showSteps = show;
  beat();
}

/** Begins to watch the card that has started, or ends it with the card. */
export function cardChanged() {
  clearInterval(pulse);
  beat();
  document.dispatchEvent(new CustomEvent("fieldslate:card-runs", { detail: runningCard() !== null })); // offline.js holds a new version back
  if (runningCard()) {
    pulse = setInterval(beat, BEAT_MS);
    document.addEventListener("click", wakeSound); // after a reload any tap will do
    keepScreenOn();
  } else {
    document.removeEventListener("click", wakeSound);
    endSound();
    letScreenGo();
  }
}

export function beat() {
  const card = runningCard();
  const timers = Object.entries(card?.timers ?? {});
  const calling = timers.filter(([, { ends, looked }]) => left(ends) <= 0 && !looked);
  showSteps();
  showAlarms(calling);
  showLine(card, timers);
  if (!calling.length || performance.now() - lastCall < CALL_EVERY_MS) return;
  lastCall = performance.now();
  if (!card.silent) beep();
  navigator.vibrate?.(VIBRATION_MS);
}

function showAlarms(calling) {
  const calls = Object.fromEntries(calling);
  for (const [key, alarm] of Object.entries(called)) if (!calls[key]) alarm.remove();
  called = Object.fromEntries(calling.map(([key, timer]) => [key, called[key] ?? alarmOf(key, timer)]));
  alarms.hidden = !calling.length;
}

function alarmOf(key, timer) {
  const words = make("p", { role: "alert" }, `${timer.title}: time was up at ${at(timer.ends)}. Look now.`);
  const button = makeButton("I have looked", looked, { class: "button strong", "aria-label": `I have looked: ${timer.title}` });
  const alarm = make("div", { class: "card-alarm" }, words, button);
  alarms.append(alarm);
  return alarm;

  async function looked() {
    const { timers } = runningCard();
    if (timer.every) timers[key] = timerOf(timer.title, timer.every, true);
    else timers[key].looked = true;
    await keepCard(); // the alarm stands until it is on the disk
    beat();
    const step = document.querySelector(`[data-step="${key}"]`);
    // The look done, a timer that does not repeat is most often started anew.
    step?.querySelector(timer.every ? ".tick input" : ".timer button")?.focus();
  }
}

function showLine(card, timers) {
  line.hidden = !card || cardHere() !== null; // the card itself says more
  if (line.hidden) return;
  back.href = addressOf(card);
  const [next] = timers.map(([, timer]) => timer).filter(({ ends }) => left(ends) > 0).sort((one, other) => one.ends - other.ends);
  write(count, next ? `${next.title}: ${minutesAndSeconds(left(next.ends))}` : "");
}

function changedElsewhere() {
  cardChanged();
  document.dispatchEvent(new CustomEvent("fieldslate:card-elsewhere"));
}
