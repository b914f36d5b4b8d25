// Keeps every file of Fieldslate on the phone and answers from there, so that all of it works with no signal.
//
// A file lies in one store under the SHA-256 of its content, never under its name: saving that was interrupted goes on with
// what is there, an update fetches only what changed. Nothing that lies there is believed: each part is checked as it is read.

import { answer, takeNewVersion, TAKE_NEW_VERSION } from "./answers.js";
import { SCOPE } from "./built.js";
import { check, look } from "./checking.js";
import { install, save, state } from "./saving.js";
import { activate, noteCard } from "./versions.js";
import { answeringBy, DUE } from "../messages.js";

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(SCOPE)) event.respondWith(answer(request));
  if (request.method === "POST" && request.url === TAKE_NEW_VERSION) event.respondWith(takeNewVersion());
});
// A notice leads to the first page, where what is due stands, and where a timer that is up calls as on every page.
self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  event.waitUntil(bringToFront(event.notification.tag));
});
const answerPage = answeringBy({ "take-over": () => self.skipWaiting(), card: noteCard, state, save, check, look });
self.addEventListener("message", (event) => event.waitUntil(answerPage(event)));

/** Shows what a notice was of. A page that is open already comes to the front as it is: a timer that is up calls on every page, and what is due
    stands on the first one, where it goes by itself. */
async function bringToFront(tag) {
  const pages = await self.clients.matchAll({ includeUncontrolled: true, type: "window" });
  const open = pages.find(({ url }) => url.startsWith(SCOPE));
  if (!open) return self.clients.openWindow(SCOPE);
  if (tag === DUE) open.postMessage({ kind: DUE });
  return open.focus();
}
