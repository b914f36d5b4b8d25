// The sound of a timer that is up. A browser lets a page sound only from a tap on, and the page says when it is silent.

import { make, makeButton, write } from "./page_parts.js";

const BEEP_HZ = 2_000; // a phone's speaker is loud there, and most ears still hear it
const BEEPS_AT_S = [0, 0.25, 0.5];
const BEEP_LENGTH_S = 0.15;

const GUARD = "No page can ring while the phone sleeps; it rings as soon as it wakes. The guard is the charger's own stops: set them, and stay by the pack.";

let sound = null;
let hasNone = !window.AudioContext;
const stateLine = make("p", { class: "card-sound-state" });

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
  sayState();
  return make("div", { class: "card-sound" }, label, test, stateLine, make("p", { class: "card-guard" }, GUARD));
}

export async function wakeSound() {
  if (!sound && !begun()) return;
  await resumeSound();
}

/** Says whether there is a sound from here on: a browser may have none, or refuse to make it. */
function begun() {
  try {
    sound = new AudioContext();
    sound.onstatechange = sayState; // a phone call puts it to sleep
  } catch {
    sound = null;
  }
  hasNone = sound === null;
  sayState();
  return !hasNone;
}

/** Wakes the sound that a tap has started, as far as the browser lets a page. */
export const resumeSound = () => sound?.resume().catch(() => {});

export function endSound() {
  sound?.close();
  sound = null;
}

function sayState() {
  if (hasNone) return write(stateLine, "This browser has no sound for a timer: watch the clock.");
  if (sound?.state !== "running") return write(stateLine, "The browser holds the sound back: tap anywhere, or the timers stay silent.");
  write(stateLine, "It sounds only while Fieldslate is in front and the screen is on. Turn the volume up and silent mode off.");
}

export function beep() {
  if (sound?.state !== "running") return; // what a sleeping sound is given would all come at once when it wakes
  try {
    for (const after of BEEPS_AT_S) toneAt(sound.currentTime + after);
  } catch {
    hasNone = true;
    sayState();
  }
}

function toneAt(begin) {
  const tone = sound.createOscillator();
  tone.type = "square";
  tone.frequency.value = BEEP_HZ;
  tone.connect(sound.destination);
  tone.start(begin);
  tone.stop(begin + BEEP_LENGTH_S);
}
