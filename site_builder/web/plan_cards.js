// A card that is started from a line of the plan that is followed carries the line along: only one of its own packs and its own page.

import { ownPacksOf, runningCards } from "./card_kept.js";
import { picked } from "./own_kept.js";
import { lineOf } from "./own_words.js";
import { DONE, followed, keepPlan, ON, putOn } from "./plan_kept.js";

/** The cards that change a pack as the page of a line has it. A test holds them against the pages. */
const CARDS_OF_PAGE = {
  "charge-settings": ["charging-card", "first-charge-card", "cold-day-card", "long-rest-card"],
  "packs-in-series": ["series-card"],
  "packs-in-parallel": ["parallel-card"],
  storage: ["putting-away-card"],
};

/** Follows the cards from now on, on every page. */
export function start() {
  document.addEventListener("fieldslate:card-runs", followCards);
  document.addEventListener("fieldslate:picked", followPicked);
}

const sameIds = (some, others) => some.filter(Boolean).sort().join(" ") === others.filter(Boolean).sort().join(" ");

/** Says whether a card is one of a line: a card of its page, for its own packs, or for what was typed of its label. */
function isCardOf(plan, turn, card) {
  if (!CARDS_OF_PAGE[turn.page]?.includes(card.page)) return false;
  const own = ownPacksOf(card);
  if (own && !sameIds(own.map(({ id }) => id), turn.ids)) return false;
  return (own && turn.ids.every(Boolean)) || card.label === labelIn(plan, turn);
}

/** What a card of a line says of its packs, as `shortLabelOf` writes it. */
function labelIn({ entries }, { packs }) {
  const [number] = packs;
  const textOf = (name) => [name, entries[`packs_${number}_${name}`]?.[0]];
  return packs.length > 1 ? `${packs.length} packs` : lineOf("pack", { entries: Object.fromEntries(["chemistry", "cells", "capacity_mah"].map(textOf)) });
}

/** Whoever picks another pack than that of the line that "Put on" was tapped on has gone on to something else. */
function followPicked({ detail: { kind } }) {
  const plan = followed();
  const asked = plan?.asked && plan.turns[plan.asked.turn];
  if (!asked || !["pack", "packs"].includes(kind) || sameIds((picked()[kind] ?? "").split(" "), asked.ids)) return;
  plan.asked = null;
  keepPlan(plan);
}

/** A card that was started from a line puts it on, and one that has ended takes it off. */
function followCards() {
  const plan = followed();
  if (!plan) return;
  const cards = runningCards();
  let isOther = false;
  const asked = plan.asked && plan.turns[plan.asked.turn];
  const started = asked && cards.find((one) => one.started >= plan.asked.at && isCardOf(plan, asked, one) && plan.turns.every(({ card }) => card !== one.id));
  if (started) {
    putOn(plan, asked, started.started);
    asked.card = started.id;
    plan.asked = null;
    isOther = true;
  }
  for (const turn of plan.turns.filter(({ card }) => card)) {
    const runs = cards.some(({ id }) => id === turn.card);
    const state = runs ? ON : DONE;
    if (turn.state === state) continue;
    turn.state = state; // an end can be taken back
    isOther = true;
  }
  if (isOther) keepPlan(plan);
}
