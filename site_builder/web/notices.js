// Notices of the phone, for what has become due and for a timer that is up while another app is in front. A browser is asked for them by a
// button alone, and shows them only while Fieldslate is open, on another page or behind another app.

import { dueNow } from "./due.js";
import * as kept from "./kept.js";
import { DUE } from "./messages.js";
import { makeButton } from "./page_parts.js";
import { isListOf, isText } from "./shapes.js";
import { goTo } from "./travel.js";

const LOOK_EVERY_MS = 600_000;
const NO_NOTICES = "no notices"; // a key as those of what is due
const REFUSED = "Notices of Fieldslate are refused on this phone: allow them in the browser to have them. What is due is listed here all the same.";
const NONE = "This browser shows no notices of Fieldslate. What is due is listed here all the same.";

/** The keys of what was said already, by a notice or on the first page. */
export const TOLD = { name: "told", version: 1, called: "what you were reminded of", isQuiet: true, fits: (value) => isListOf(value, isText) };

const canTell = () => "Notification" in window && Boolean(navigator.serviceWorker);
const told = () => kept.read(TOLD) ?? [];

let whyNone = null; // what the page that is open says of it
const calls = new Set(); // the names of the timers of which a notice was shown

export function start() {
  if (!canTell()) return;
  kept.hearOf(TOLD, () => {}); // another tab may have said it
  setInterval(tell, LOOK_EVERY_MS);
  document.addEventListener("visibilitychange", tell);
  navigator.serviceWorker.addEventListener("message", ({ data }) => data.kind === DUE && goTo("index.html"));
}

/** Notes that what is due stands before the pilot: a notice of it has nothing more to say. */
export function noteSeen() {
  note();
  takeBack(DUE);
}

function note() {
  const keys = [...dueNow().map(({ key }) => key), ...told().filter((key) => key === NO_NOTICES)];
  if (JSON.stringify(keys) !== JSON.stringify(told())) kept.keep(TOLD, keys);
}

async function tell() {
  if (!isUnseen()) return;
  const fresh = dueNow().filter(({ key }) => !told().includes(key));
  if (!fresh.length) return;
  note();
  await show("Due", fresh.map(({ words, says }) => `${words}: ${says}`).join("\n"), DUE);
}

/** Tells of each timer that calls while nobody sees the page, once, and takes that back as soon as somebody has looked. */
export function tellCalls(calling) {
  const names = calling.map(({ name }) => name);
  for (const name of [...calls].filter((one) => !names.includes(one))) {
    calls.delete(name);
    takeBack(name);
  }
  if (!isUnseen()) return;
  for (const { name, title, says } of calling.filter((call) => !calls.has(call.name))) {
    calls.add(name);
    show(title, says, name);
  }
}

const isUnseen = () => document.hidden && canTell() && Notification.permission === "granted";

async function show(title, body, tag) {
  const registration = await navigator.serviceWorker.ready;
  await registration.showNotification(title, { body, tag, icon: "icons/icon-192.png" }).catch(() => {}); // refused meanwhile
}

async function takeBack(tag) {
  if (!canTell() || Notification.permission !== "granted") return;
  const registration = await navigator.serviceWorker.ready;
  for (const notice of await registration.getNotifications({ tag })) notice.close();
}

/** Returns the button by which notices are asked for, or a sentence, once, where there are none; or null. `answered` is called after the button. */
export function offer(answered) {
  const permission = canTell() ? Notification.permission : "none";
  if (permission === "granted") return null;
  if (permission === "default") {
    return makeButton("Also tell me by a notice of this phone", async () => {
      await Notification.requestPermission();
      answered();
    });
  }
  if (!told().includes(NO_NOTICES)) {
    whyNone = permission === "denied" ? REFUSED : NONE;
    kept.keep(TOLD, [...told(), NO_NOTICES]);
  }
  return whyNone;
}
