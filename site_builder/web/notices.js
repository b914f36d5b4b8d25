// Notices of the phone for what has become due. A browser is asked for them by a button alone, and shows them only while Fieldslate is open,
// on another page or behind another app.

import { dueNow } from "./due.js";
import * as kept from "./kept.js";
import { makeButton } from "./page_parts.js";
import { isListOf, isText } from "./shapes.js";

const LOOK_EVERY_MS = 600_000;

/** The keys of what was said already, by a notice or on the first page. */
export const TOLD = { name: "told", version: 1, called: "what you were reminded of", isQuiet: true, fits: (value) => isListOf(value, isText) };

const canTell = () => "Notification" in window && "serviceWorker" in navigator;

export function start() {
  if (!canTell()) return;
  kept.hearOf(TOLD, () => {}); // another tab may have said it
  setInterval(tell, LOOK_EVERY_MS);
  document.addEventListener("visibilitychange", tell);
}

/** Notes that what is due stands before the pilot. */
export function noteSeen() {
  const keys = dueNow().map(({ key }) => key);
  if (JSON.stringify(keys) !== JSON.stringify(kept.read(TOLD) ?? [])) kept.keep(TOLD, keys);
}

async function tell() {
  if (!document.hidden || Notification.permission !== "granted") return;
  const told = kept.read(TOLD) ?? [];
  const fresh = dueNow().filter(({ key }) => !told.includes(key));
  if (!fresh.length) return;
  noteSeen();
  const registration = await navigator.serviceWorker.ready;
  registration.showNotification("Due", { body: fresh.map(({ words, says }) => `${words}: ${says}`).join("\n"), tag: "due", icon: "icons/icon-192.png" });
}

/** Returns the button by which notices are asked for, or null where they cannot be had or were answered. `answered` is called then. */
export function askButton(answered) {
  if (!canTell() || Notification.permission !== "default") return null;
  return makeButton("Also tell me by a notice of this phone", async () => {
    await Notification.requestPermission();
    answered();
  });
}
