// What stands there before a card runs: the button that starts it, or why there is none.

import { addressOf, cardHere, runningCard } from "./card_kept.js";
import { make, makeButton } from "./page_parts.js";

const CANNOT_START = {
  example: "This is the club's example. Enter your own pack to start a card.",
  kept: "A card can be started as soon as the calculator is up.",
  waiting: "A card can be started as soon as your entries are answered.",
  partial: "A card can be started once the pack has been read.",
  refusal: "There is no card for these entries: the reason stands below.",
  fault: "This could not be worked out, so there is no card to start.",
};
const PACK_HAS_CHANGED = "A card has ended, so the pack is not as it was: measure it and enter it anew to start another.";
const FROM_LINK = "These entries came with a link: use them above, and a card can be started.";

/** The place of the offer. */
export const offer = make("div", { class: "card-offer" });

let start, form, answer;
let isAnswered; // what is shown answers what stands in the form
let packHasChanged;

/** Takes the page that has come. `starts` is called to start a card. */
export function take(starts, leaving) {
  start = starts;
  [form, answer] = ["entries", "answer"].map((id) => document.getElementById(id));
  isAnswered = true;
  packHasChanged = false;
  document.addEventListener("fieldslate:entries", entriesChanged, { signal: leaving }); // before the answer, which may come at once
  document.addEventListener("fieldslate:answer", answered, { signal: leaving });
}

/** Says whether what is shown answers what stands in the form. */
export const answersEntries = () => isAnswered;

/** A card has ended, and has often changed the pack. */
export const noteEnd = () => (packHasChanged = Boolean(form) && !("keepsPack" in form.dataset));

function entriesChanged() {
  isAnswered = false;
  packHasChanged = false;
  show();
}

function answered() {
  isAnswered = true;
  show();
}

export function show() {
  if (cardHere()) return;
  for (const field of document.querySelectorAll("#answer-body :is(.step input, .step textarea)")) field.disabled = true;
  const other = runningCard();
  if (other) return offer.replaceChildren(make("p", {}, "Another card runs: ", make("a", { href: addressOf(other) }, other.title), ". End it first."));
  const stands = "mayStart" in answer.dataset && answer.dataset.state === "partial" ? "answer" : answer.dataset.state;
  const reason = CANNOT_START[stands] ?? ((form?.dataset.from === "link" && FROM_LINK) || (packHasChanged && PACK_HAS_CHANGED));
  const button = makeButton("Start this card", start, { class: "button strong" });
  button.disabled = !isAnswered;
  offer.replaceChildren(reason ? make("p", {}, reason) : button);
}
