// The timers of a running card: they count down on the page's clock and call until the pilot has looked.

import { at, make, makeButton, write } from "./card_parts.js";

const BEAT_MS = 500;
const CALL_EVERY_MS = 2_000;
const A_MINUTE_MS = 60_000;
const VIBRATION_MS = [300, 200, 300];
const BEEP_HZ = 2_000; // a phone's speaker is loud there, and most ears still hear it
const BEEPS_AT_S = [0, 0.25, 0.5];
const BEEP_LENGTH_S = 0.15;

let pulse;
let sound = null;
let soundState = null;

/** Gives each timed step of `body` its timer. `card` holds what runs, `keep` stores it, `alarms` is where they call. */
export function startTimers(card, body, alarms, keep) {
  clearInterval(pulse);
  const timers = Array.from(body.querySelectorAll(".timer"), (place) => timerAt(place, card, alarms, keep));
  let lastCall = 0;
  const beat = () => {
    const calling = timers.map((show) => show()).includes(true);
    if (!calling || Date.now() - lastCall < CALL_EVERY_MS) return;
    lastCall = Date.now();
    if (!card.silent) beep();
    navigator.vibrate?.(VIBRATION_MS);
  };
  pulse = setInterval(beat, BEAT_MS);
  document.addEventListener("click", wakeSound); // after a reload any tap will do
  beat();
}

export function stopTimers() {
  clearInterval(pulse);
  document.removeEventListener("click", wakeSound);
  sound?.close();
  sound = null;
}

/** Makes the timer of one step. The function it returns shows how far it is, and says whether it calls. */
function timerAt(place, card, alarms, keep) {
  const step = place.closest(".step");
  const key = step.dataset.step;
  const title = step.querySelector(".step-title").textContent;
  const count = make("span", { class: "timer-count", role: "timer", "aria-live": "off" });
  const button = makeButton("", turn);
  let alarm = null;
  place.append(" ", count, " ", button);

  const runs = () => card.timers[key]?.ends > Date.now();

  function turn() {
    if (runs()) delete card.timers[key];
    else card.timers[key] = { ends: Date.now() + Number(place.dataset.minutes) * A_MINUTE_MS, looked: false };
    keep();
    show();
  }

  function looked() {
    card.timers[key].looked = true;
    keep();
    show();
    button.focus(); // the look done, this timer is most often started anew
  }

  function show() {
    const timer = card.timers[key];
    const isUp = Boolean(timer) && !runs();
    const calls = isUp && !timer.looked;
    write(count, !timer ? "" : isUp ? `Time was up at ${at(timer.ends)}` : minutesAndSeconds(timer.ends - Date.now()));
    write(button, !timer ? "Start timer" : isUp ? "Start timer again" : "Stop timer");
    button.setAttribute("aria-label", `${button.textContent}: ${title}`);
    if (calls && !alarm) alarms.append((alarm = alarmOf(title, at(timer.ends), looked)));
    if (!calls) alarm = alarm?.remove() ?? null;
    return calls;
  }

  return show;
}

function alarmOf(title, upAt, looked) {
  const line = make("p", { role: "alert" }, `${title}: time was up at ${upAt}. Look now.`);
  const button = makeButton("I have looked", looked, { class: "button strong", "aria-label": `I have looked: ${title}` });
  return make("div", { class: "card-alarm" }, line, button);
}

function minutesAndSeconds(ms) {
  const seconds = Math.ceil(ms / 1000);
  return [Math.floor(seconds / 60), seconds % 60].map((part) => String(part).padStart(2, "0")).join(":");
}

// Sound

export function makeSoundControls(card, keep) {
  const box = make("input", { type: "checkbox", id: "card-sound" });
  box.checked = !card.silent;
  box.addEventListener("change", () => {
    card.silent = !box.checked;
    keep();
  });
  const label = make("label", { class: "tick" }, box, make("span", {}, "Sound when a timer is up"));
  const test = makeButton("Test the sound", async () => {
    await wakeSound();
    beep();
  });
  soundState = make("p", { class: "card-sound-state" });
  saySoundState();
  return make("div", { class: "card-sound" }, label, test, soundState);
}

/** Browsers let a page sound only from a tap on. */
export async function wakeSound() {
  if (!window.AudioContext) return;
  if (!sound) {
    sound = new AudioContext();
    sound.onstatechange = saySoundState; // a phone call puts it to sleep
  }
  await sound.resume();
}

function saySoundState() {
  if (!window.AudioContext) return write(soundState, "This browser has no sound for a timer: watch the clock.");
  if (sound?.state !== "running") return write(soundState, "The sound is asleep: tap anywhere, or the timers stay silent.");
  write(soundState, "It sounds only while this page is in front and the screen is on. Turn the volume up and silent mode off.");
}

function beep() {
  if (sound?.state !== "running") return; // what a sleeping sound is given would all come at once when it wakes
  for (const after of BEEPS_AT_S) {
    const tone = sound.createOscillator();
    tone.type = "square";
    tone.frequency.value = BEEP_HZ;
    tone.connect(sound.destination);
    tone.start(sound.currentTime + after);
    tone.stop(sound.currentTime + after + BEEP_LENGTH_S);
  }
}
