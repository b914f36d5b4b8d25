// What the end of a card leaves with each of its packs: how it was left, and a line in its log; and what an end that is taken back leaves.

import { packsHere, packsOf, typedOf } from "./card_line.js";
import { keysOf } from "./card_time.js";
import { dayOf } from "./log_kept.js";
import { inWords } from "./log_words.js";
import { FACTS } from "./own_words.js";
import { shortened } from "./plain_text.js";
import { parsed } from "./trusted.js";

const A_MINUTE_MS = 60_000;

/** What an end makes of each pack: it has a line in its log, and says how the card leaves it; with how it was left before, for an end that is
 *  taken back. What is `wrong` of what was typed for the line goes into its note. */
export function endOf(card, wrong) {
  const ended = Date.now();
  const word = leftAs(card);
  const minutes = minutesOf(card, ended);
  const written = Object.values(card.notes).filter((text) => text.trim() !== "");
  const readOf = new Map(packsOf(card).map(({ id, read }) => [id, read]));
  return (pack, lines) => {
    const state = word && { state: [word, ended], before: { card: card.id, ended, state: pack.state ?? null } };
    const isWrong = ([name]) => name in (wrong[pack.id] ?? {});
    const typed = Object.entries(typedOf(card, pack.id));
    const read = { ...readOf.get(pack.id), ...(minutes && { taken_min: minutes }), ...Object.fromEntries(typed.filter((one) => !isWrong(one))) };
    const entries = { day: dayOf(ended), kind: isCharged(card) ? "charge" : card.logs || "other", ...read };
    const words = [...(isCharged(card) ? togetherWith(card, pack) : card.logs ? [] : [card.title]), ...typed.filter(isWrong).map((one) => inWords(...one)), ...written].join("; ");
    return { pack: { ...pack, ...state }, lines: [...withoutLineOf(card, lines), { id: lineOf(card), entries, note: shortened(words, FACTS.log.mostInNote) }] };
  };
}

/** What the charger counts of packs that are charged together is not one pack's, and nobody divides it: the line says with which. */
function togetherWith(card, { id }) {
  if (!card.isOfSeveral) return [];
  const others = packsHere(card).filter((one) => one.id !== id).map(({ name }) => name);
  return [`Charged together with ${others.join(", ") || "other packs"}`];
}

/** Returns the name of the line that a card leaves in a log. */
export const lineOf = ({ id, started }) => `card ${id} ${started}`;

/** The minutes between the tick that starts a charge and the one that ends its timers, by the phone's clock; none where it was not started, nor
 *  where they are more than a line takes: the card was left open, or the clock was put right meanwhile. */
function minutesOf({ html, times }, ended) {
  const tickOf = (what) => times[html.match(new RegExp(`data-step="([^"]+)"[^>]*data-${what}=`))?.[1]];
  const started = tickOf("starts");
  const minutes = Math.round(((tickOf("stops") ?? ended) - started) / A_MINUTE_MS);
  return minutes >= 0 && minutes <= FACTS.log.mostMinutes ? `${minutes}` : "";
}

const withoutLineOf = (card, lines) => lines.filter(({ id }) => id !== lineOf(card));

/** What an end that is taken back makes of each pack: it is as it was before; one that was noted anew since stays so. */
export const beforeEndOf = (card) => (pack, lines) => {
  const { before, state } = pack;
  const isOurs = before?.card === card.id && state?.[1] === before.ended;
  return { pack: isOurs ? { ...pack, state: before.state ?? undefined, before: undefined } : pack, lines: withoutLineOf(card, lines) };
};

/** Returns how a card leaves its pack, as the last of its ticked steps says that says it; charged where every step of a charge is ticked. */
function leftAs(card) {
  const says = [...parsed(card.html).querySelectorAll("[data-leaves]")].filter(({ dataset }) => card.ticked.includes(dataset.step));
  return says.at(-1)?.dataset.leaves ?? (isCharged(card) ? "charged" : null);
}

const isCharged = (card) => card.html.includes("data-starts=") && keysOf(card).every((key) => card.ticked.includes(key));
