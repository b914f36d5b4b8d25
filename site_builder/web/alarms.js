// What calls on every page: each call stands below the page, with a button, until somebody has looked.

import { hide, make, makeButton, write } from "./page_parts.js";
import { SECOND_TAP_MS, secondTaps } from "./second_taps.js";

export const alarms = make("section", { class: "card-alarms", "aria-label": "Timers that are up" });
const BUTTON = ".card-alarm button:enabled";

const isSecondTap = secondTaps();
let called = {}; // the name of a call -> its alarm
let cameFrom = null; // what had the focus before the alarms

alarms.addEventListener("focusin", ({ relatedTarget }) => {
  if (!alarms.contains(relatedTarget)) cameFrom = relatedTarget;
});

new ResizeObserver(keepClear).observe(alarms);

/** The page scrolls what has the focus above the alarms: at each Tab key, and as they come. */
function keepClear() {
  document.documentElement.style.setProperty("--alarms", `${alarms.offsetHeight}px`);
  const { activeElement } = document;
  if (!alarms.contains(activeElement) && activeElement?.matches(":focus-visible")) activeElement.scrollIntoView({ block: "nearest" });
}

/** Shows the calls: each has a `name`, a `title`, what it `says`, and what it does once somebody has looked. `then` comes after that. */
export function showAlarms(calling, then) {
  const calls = new Map(calling.map((call) => [call.name, call]));
  for (const [name, alarm] of Object.entries(called)) if (!calls.has(name)) alarm.remove();
  called = Object.fromEntries(Array.from(calls, ([name, call]) => [name, called[name] ?? alarmOf(call, then)]));
  for (const [name, { title, says }] of calls) write(called[name].firstChild, `${title}: ${says}`); // its hour is another one on another day, or in another zone
  hide(alarms, !alarms.childElementCount);
}

function alarmOf({ title, look }, then) {
  const looked = async ({ detail }) => {
    if (isSecondTap()) return;
    await look();
    holdPlace(alarm);
    then();
    if (detail === 0) focusOn(); // by the keyboard: a finger has no place to go back to
  };
  const button = makeButton("I have looked", looked, { class: "button strong", "aria-label": `I have looked: ${title}` });
  const alarm = make("div", { class: "card-alarm" }, make("p", { role: "alert" }), button);
  alarms.append(alarm);
  button.disabled = true; // it may come just where a finger comes down, and nobody has read it yet
  setTimeout(() => (button.disabled = false), SECOND_TAP_MS);
  return alarm;
}

/** A finger that taps twice finds nothing where the alarm stood: neither the next alarm, unread, nor a button of the page. */
function holdPlace(alarm) {
  const place = make("div", { class: "looked-at" });
  place.style.height = `${alarm.offsetHeight}px`;
  alarm.before(place);
  setTimeout(() => {
    place.remove();
    hide(alarms, !alarms.childElementCount);
  }, SECOND_TAP_MS);
}

/** The next alarm comes next, or else what was left for this one. */
function focusOn() {
  if (document.activeElement !== document.body) return; // the card has its own place
  const heading = document.querySelector("h1");
  heading.tabIndex = -1;
  const next = alarms.querySelector(BUTTON) ?? (cameFrom?.isConnected && cameFrom !== document.body ? cameFrom : heading);
  next.focus({ preventScroll: true });
}
