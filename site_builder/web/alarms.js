// What calls on every page: each call stands below the page, with a button, until somebody has looked.

import { hide, make, makeButton } from "./page_parts.js";

export const alarms = make("section", { class: "card-alarms", "aria-label": "Timers that are up" });

let called = {}; // the name of a call -> its alarm

/** Shows the calls: each has a `name`, a `title`, what it `says`, and what it does once somebody has looked. `then` comes after that. */
export function showAlarms(calling, then) {
  const calls = new Map(calling.map((call) => [call.name, call]));
  for (const [name, alarm] of Object.entries(called)) if (!calls.has(name)) alarm.remove();
  called = Object.fromEntries(Array.from(calls, ([name, call]) => [name, called[name] ?? alarmOf(call, then)]));
  hide(alarms, !calling.length);
}

function alarmOf({ title, says, look }, then) {
  const looked = async () => {
    await look();
    then();
  };
  const words = make("p", { role: "alert" }, `${title}: ${says}`);
  const button = makeButton("I have looked", looked, { class: "button strong", "aria-label": `I have looked: ${title}` });
  const alarm = make("div", { class: "card-alarm" }, words, button);
  alarms.append(alarm);
  return alarm;
}
