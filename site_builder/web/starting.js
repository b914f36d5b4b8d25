// Starts what every page has but saving, which page.js does first, then what the one at hand has, again at each page that is
// gone to. All of it can be read before.

import "./page.js"; // no page goes on that does not save
import { CARDS, ONE_CARD, takeOverOneCard } from "./card_kept.js";
import * as offer from "./card_offer.js";
import * as watch from "./card_watch.js";
import * as clocks from "./clocks.js";
import { CLOCK } from "./clocks.js";
import * as form from "./form.js";
import { lookUp } from "./kept.js";
import { ENTRIES, OVER } from "./kept_entries.js";
import { startHome } from "./home.js";
import { LISTS, PICKED } from "./own_kept.js";
import * as notices from "./notices.js";
import * as ownRows from "./own_rows.js";
import * as ownSection from "./own_section.js";
import { hasSteps } from "./page_parts.js";
import * as planCards from "./plan_cards.js";
import { PLAN } from "./plan_kept.js";
import * as paperHead from "./paper_head.js";
import * as secondTaps from "./second_taps.js";
import * as severalLine from "./several_line.js";
import * as travel from "./travel.js";
import { UNITS } from "./units.js";

const opened = lookUp(CLOCK, CARDS, ONE_CARD, PLAN, ENTRIES, OVER, UNITS, PICKED, notices.TOLD, ...Object.values(LISTS)).then(() => {
  takeOverOneCard();
  planCards.start(); // before the first look at what runs
  watch.start();
  clocks.start();
  notices.start();
});
secondTaps.start();
paperHead.start();
travel.start(arrive);

async function arrive(leaving) {
  const has = (id) => document.getElementById(id) !== null;
  const [hasEntries, hasCards, isOwn, isFind, isBriefing] = ["entries", "running-cards", "own", "find", "briefing-controls"].map(has);
  const isCard = hasSteps(); // as the page has come: an answer may have none
  const { logs, log } = document.getElementById("entries")?.dataset ?? {};
  const isPlan = document.querySelector("#answer-body .agenda") !== null; // the same
  const kinds = hasEntries ? [form.wake(leaving)] : []; // at once: the engine takes longest
  const wantsFew = hasCards || isOwn || isFind || isBriefing || isPlan || logs || log;
  const { briefing, cards, find, logOffer, logRows, ownPage, plan } = wantsFew ? await import("./few_pages.js") : {};
  document.getElementById("not-started")?.remove();
  if (hasCards) kinds.push(cards.RECORDS);
  await Promise.all([opened, lookUp(...kinds)]);
  if (leaving.aborted) return;
  watch.arrive();
  if (isPlan) plan.start(leaving); // before the first answer, which may come at once
  if (hasEntries) {
    form.start(leaving);
    const isPicked = ownSection.takeFromAddress(); // over what the form holds now, so that it can be taken back
    ownSection.start(leaving);
    ownRows.start(leaving);
    if (document.querySelector("#answer[data-ways]")) severalLine.start(leaving);
    await isPicked;
    if (leaving.aborted) return;
  }
  if (log) await logRows.start(leaving);
  if (logs) logOffer.start(leaving);
  if (isOwn) await ownPage.start(leaving);
  if (has("home")) startHome(leaving);
  if (isCard) offer.start(leaving);
  if (hasCards) cards.start(leaving);
  if (isBriefing) briefing.start(leaving);
  if (document.querySelector("[data-club-lines]")) fillClubLines(leaving);
  if (isFind) await find.start(leaving);
  if (has("save-and-share")) await (await import("./save_and_share.js")).start(leaving);
  document.documentElement.dataset.started = ""; // what is kept stands in the page
}

/** A pack in trouble waits for nothing: its page is whole without what the club has filled in. */
async function fillClubLines(leaving) {
  const few = await import("./few_pages.js").catch(() => null);
  await few?.clubLines.start(leaving);
}
