// The running card, one for all pages and tabs, as this phone keeps it.

import { hearOfGoingBack, left } from "./clocks.js";
import * as kept from "./kept.js";
import { isGroup, isGroupOf, isListOf, isNumber, isText, isYesOrNo } from "./shapes.js";

const A_MINUTE_MS = 60_000;
const A_PAGE = /^[a-z0-9-]+$/;

export const CARD = { name: "running-card", version: 1, called: "the card that was running", fits: isCard };

export const runningCard = () => kept.read(CARD);
/** The card that runs, if it is that of the page that is open. */
export const cardHere = () => (runningCard()?.page === document.body.dataset.page ? runningCard() : null);
export const addressOf = ({ page }) => `${page}.html`;

/** Keeps a card that begins, and says once it is on the disk whether it is. */
export const beginCard = (card) => kept.keep(CARD, card);
/** The same, once it has changed. */
export const keepCard = () => kept.keep(CARD, runningCard());
export const forgetCard = () => kept.forget(CARD);

/** Takes over what the phone has, and says whether that is another card, or another state of it, than this page had. */
export const takeKeptCard = () => kept.refresh(CARD);

/** Returns a timer that begins now. One that repeats begins anew at each look. */
export const timerOf = (title, minutes, repeats) => ({ title, ends: Date.now() + minutes * A_MINUTE_MS, looked: false, ...(repeats && { every: minutes }) });

// A timer goes on with what both clocks last left of it.
hearOfGoingBack((by) => {
  const card = runningCard();
  if (!card) return;
  for (const timer of Object.values(card.timers)) timer.ends = Date.now() + Math.min(left(timer.ends), timer.ends - Date.now() - by);
  keepCard();
});

/** { page, title, started, html, ticked, notes, timers, silent }: all that survives a reload. */
function isCard(value) {
  return (
    isGroup(value) &&
    isText(value.page) &&
    A_PAGE.test(value.page) &&
    [value.title, value.html].every((text) => isText(text) && text !== "") &&
    isNumber(value.started) &&
    isListOf(value.ticked, isText) &&
    isGroupOf(value.notes, isText) &&
    isGroupOf(value.timers, isTimer) &&
    isYesOrNo(value.silent)
  );
}

/** `every` are the minutes after which it calls again, where it does. */
function isTimer(value) {
  return isGroup(value) && isText(value.title) && isNumber(value.ends) && isYesOrNo(value.looked) && (value.every === undefined || isNumber(value.every));
}
