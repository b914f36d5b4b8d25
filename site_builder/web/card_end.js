// How a card ends: the question before, its record after, and for a minute the way back.

import { cardOf, endCard, endedCards, leftToTakeBack, nameOf, runningCards, takeBack } from "./card_kept.js";
import { beforeEndOf, endOf, lineOf } from "./card_leaves.js";
import { isTold, makeLine, packsHere, packsOf, typedOf, wrongIn } from "./card_line.js";
import { dropRecord, keepRecord, keptRecords, shownRecord } from "./card_records.js";
import { cardsChanged } from "./card_watch.js";
import { spendAll } from "./kept_entries.js";
import { changeWithLogs } from "./log_kept.js";
import { note, thingOf } from "./own_kept.js";
import { FACTS } from "./own_words.js";
import { make, makeButton } from "./page_parts.js";

let here = null; // the card that was ended in this tab

/** What ends a card: at a second tap in its foot, or at one tap where all is ticked. `ended` is called once it has ended. */
export function makeEnd(id, ended) {
  const part = make("div", { class: "card-end" });
  let isEnding = false; // a second tap ends nothing twice
  const button = makeButton("End this card", ask);
  part.append(button);
  return { part, makeLast };

  function makeLast() {
    const last = make("div", {});
    last.append(make("p", {}, "End the card: its record is kept on this phone."), makeEndButton(last));
    return [last];
  }

  function makeEndButton(place) {
    return makeButton("End this card and keep its record", () => end(place), { class: "button strong" });
  }

  function ask() {
    const goOn = makeButton("Go on with this card", () => {
      part.replaceChildren(button);
      button.focus();
    });
    const yes = makeButton("Yes, end it", () => end(part), { class: "button strong" });
    const question = make("p", { id: "card-question" }, "End this card and its timers?");
    part.replaceChildren(make("div", { role: "group", "aria-labelledby": "card-question" }, question, goOn, yes));
    goOn.focus(); // the harmless one: a tap too many must not end a card
  }

  async function end(place) {
    const card = cardOf(id);
    if (isEnding || !card) return;
    isEnding = true;
    const wrong = await wrongIn(card);
    if (!isTold(card, wrong)) {
      await askAgain(place, wrong);
      isEnding = false;
      return;
    }
    here = id;
    if (card.changesPack) spendAll(); // what was measured before is true no longer
    noteOfSupply(card);
    await changeWithLogs(packsOf(card).map((one) => one.id), endOf(card, wrong), () => Promise.all([keepRecord(card), endCard(card)]));
    cardsChanged();
    ended();
    document.getElementById("card-ended-title")?.focus();
  }

  /** What cannot go into the log as it was typed is said once before the end. */
  async function askAgain(place, wrong) {
    const line = makeLine(id, "end", (pack) => Object.keys(wrong[pack.id]));
    place.replaceChildren(...line.parts, makeEndButton(place));
    await line.holds("Correct it, or end the card: what cannot be read then goes into the note of the line.");
  }
}

/** A battery that has fed a charge is to be filled up. */
function noteOfSupply({ supply: id }) {
  if (thingOf("supply", id)?.entries.supply_kind === FACTS.due.refilled) note("supply", id, { state: ["used", Date.now()] });
}

/** Shows the cards that have just ended, each with its record and the way back. `goOn` is called with the card that is taken back. */
export function shownEnds(goOn) {
  const place = make("div", { class: "card-ends" });
  const ends = endedCards();
  ends.forEach(({ card, at }, turn) => {
    const packs = packsOf(card);
    const record = keptRecords().find(({ id }) => id === card.id);
    const words = `The card ${here === card.id ? "has ended" : "was ended in another tab"}${record ? ", and its record stands below" : ""}.`; // a full phone keeps none
    const back = makeButton("Take the end back", async () => {
      await changeWithLogs(packs.map(({ id }) => id), beforeEndOf(card), () => Promise.all([dropRecord(card), takeBack(card)]));
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
        ...packsHere(card).map(({ id }) => make("p", {}, linkToLine(card, id))),
        ...(record ? [shownRecord(record, !runningCards().length)] : []),
      ),
    );
  });
  return place;
}

function linkToLine(card, id) {
  const words = card.isOfSeveral ? `Add to the log of ${thingOf("pack", id).name}` : typedOf(card, id).put_in_mah ? "Add to its line in the log" : "Add what the charger counted to its log";
  return make("a", { class: "button", href: `my-packs.html?log=${id}&line=${encodeURIComponent(lineOf(card))}` }, words);
}
