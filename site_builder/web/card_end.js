// How a card ends: the question before, its record after, and for a minute the way back.

import { cardOf, endCard, endedCards, leftToTakeBack, nameOf, runningCards, takeBack } from "./card_kept.js";
import { dropRecord, keepRecord, keptRecords, shownRecord } from "./card_records.js";
import { cardsChanged } from "./card_watch.js";
import { keysOf } from "./card_time.js";
import { spendAll } from "./kept_entries.js";
import { dayOf, keepLine, openLog, takeBack as takeLineBack } from "./log_kept.js";
import { note, thingOf } from "./own_kept.js";
import { FACTS } from "./own_words.js";
import { make, makeButton } from "./page_parts.js";
import { trustedHtml } from "./trusted.js";

const A_MINUTE_MS = 60_000;

let here = null; // the card that was ended in this tab

/** What ends a card: at a second tap in its foot, or at one tap where all is ticked. `ended` is called once it has ended. */
export function makeEnd(id, ended) {
  const part = make("div", { class: "card-end" });
  const button = makeButton("End this card", ask);
  part.append(button);
  return { part, makeLast: () => [make("p", {}, "End the card: its record is kept on this phone."), makeButton("End this card and keep its record", end, { class: "button strong" })] };

  function ask() {
    const goOn = makeButton("Go on with this card", () => {
      part.replaceChildren(button);
      button.focus();
    });
    const yes = makeButton("Yes, end it", end, { class: "button strong" });
    const question = make("p", { id: "card-question" }, "End this card and its timers?");
    part.replaceChildren(make("div", { role: "group", "aria-labelledby": "card-question" }, question, goOn, yes));
    goOn.focus(); // the harmless one: a tap too many must not end a card
  }

  async function end() {
    const card = cardOf(id);
    here = id;
    if (card.changesPack) spendAll(); // what was measured before is true no longer
    keepRecord(card);
    noteOfSupply(card);
    await Promise.all([noteOfPack(card), endCard(card)]);
    cardsChanged();
    ended();
    document.getElementById("card-ended-title")?.focus();
  }
}

/** A pack of one's own has a line in its log, and says how the card leaves it; with how it was left before, for an end that is taken back. */
async function noteOfPack(card) {
  const pack = thingOf("pack", card.pack);
  if (!pack) return;
  const ended = Date.now();
  const word = leftAs(card);
  if (word) note("pack", pack.id, { state: [word, ended], before: { card: card.id, ended, state: pack.state ?? null } });
  await openLog(pack.id);
  const minutes = minutesOf(card, ended);
  const entries = { day: dayOf(ended), kind: isCharged(card) ? "charge" : card.logs || "other", ...card.read, ...(minutes && { taken_min: minutes }) };
  const written = Object.values(card.notes).filter((text) => text.trim() !== "");
  await keepLine(pack.id, { id: lineOf(card), entries, note: [...(isCharged(card) || card.logs ? [] : [card.title]), ...written].join("; ") });
}

/** A battery that has fed a charge is to be filled up. */
function noteOfSupply({ supply: id }) {
  if (thingOf("supply", id)?.entries.supply_kind === FACTS.due.refilled) note("supply", id, { state: ["used", Date.now()] });
}

const lineOf = ({ id, started }) => `card ${id} ${started}`;

/** The minutes between the tick that starts a charge and the one that ends its timers, by the phone's clock; none where it was not started. */
function minutesOf({ html, times }, ended) {
  const tickOf = (what) => times[html.match(new RegExp(`data-step="([^"]+)"[^>]*data-${what}=`))?.[1]];
  const started = tickOf("starts");
  return started ? `${Math.round(((tickOf("stops") ?? ended) - started) / A_MINUTE_MS)}` : "";
}

/** A pack that an end has noted is as it was before; one that was noted anew since stays so. */
async function takeNoteBack({ pack: id, id: card }) {
  const { before, state } = thingOf("pack", id);
  if (before?.card === card && state?.[1] === before.ended) await note("pack", id, { state: before.state ?? undefined, before: undefined });
}

/** Returns how a card leaves its pack, as the last of its ticked steps says that says it; charged where every step of a charge is ticked. */
function leftAs(card) {
  const { body } = new DOMParser().parseFromString(trustedHtml(card.html), "text/html");
  const says = [...body.querySelectorAll("[data-leaves]")].filter(({ dataset }) => card.ticked.includes(dataset.step));
  return says.at(-1)?.dataset.leaves ?? (isCharged(card) ? "charged" : null);
}

const isCharged = (card) => card.html.includes("data-starts=") && keysOf(card).every((key) => card.ticked.includes(key));

/** Shows the cards that have just ended, each with its record and the way back. `goOn` is called with the card that is taken back. */
export function shownEnds(goOn) {
  const place = make("div", { class: "card-ends" });
  const ends = endedCards();
  ends.forEach(({ card, at }, turn) => {
    const words = here === card.id ? "The card has ended, and its record is kept." : "The card was ended in another tab, and its record is kept.";
    const record = keptRecords().find(({ id }) => id === card.id);
    const back = makeButton("Take the end back", async () => {
      dropRecord(card);
      if (thingOf("pack", card.pack)) {
        await takeNoteBack(card);
        await takeLineBack(card.pack, lineOf(card));
      }
      await takeBack(card);
      cardsChanged();
      goOn(card.id);
    });
    setTimeout(() => back.remove(), leftToTakeBack(at));
    place.append(
      make(
        "section",
        { class: "card-ended", "aria-label": `Ended: ${nameOf(card)}` },
        make("h2", turn === 0 ? { id: "card-ended-title", tabindex: "-1" } : {}, `Ended: ${nameOf(card)}`),
        make("p", {}, words),
        back,
        ...(thingOf("pack", card.pack) ? [make("p", {}, make("a", { class: "button", href: `my-packs.html?log=${card.pack}&line=${encodeURIComponent(lineOf(card))}` }, "Add what the charger counted to its log"))] : []),
        ...(record ? [shownRecord(record, !runningCards().length)] : []),
      ),
    );
  });
  return place;
}
