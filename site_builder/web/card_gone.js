// A card that runs, and whose page this version does not have: it holds a new version back, so it can be ended on any page.

import { makeEnd, makeRecord } from "./card_end.js";
import { addressOf, forgetCard } from "./card_kept.js";
import { spendAll } from "./kept_entries.js";
import { make } from "./page_parts.js";
import { trustedHtml } from "./trusted.js";

const GONE = "This version of Fieldslate has no page for the card that runs. What was ticked and written is in its record once it is ended.";

const place = make("section", { class: "kept-notice", "aria-label": "Card without a page" });

/** Offers the end of a card that runs elsewhere, if any, where its page is not there. `ended` is called once it has ended. */
export async function offerEndOfGone(card, ended) {
  place.remove();
  if (!card || (await fetch(addressOf(card)).then(({ ok }) => ok, () => false))) return;
  const { body } = new DOMParser().parseFromString(trustedHtml(card.html), "text/html");
  for (const field of body.querySelectorAll(".step input, .step textarea")) {
    const key = field.closest(".step").dataset.step;
    if (field.type === "checkbox") field.toggleAttribute("checked", card.ticked.includes(key));
    else field.value = card.notes[key] ?? "";
  }
  const end = makeEnd(() => body.querySelectorAll(".tick input:not(:checked)").length, () => {
    forgetCard();
    spendAll(); // nobody knows what it has charged
    place.replaceChildren(makeRecord(card, body));
    place.querySelector("h3").focus();
    ended();
    document.dispatchEvent(new CustomEvent("fieldslate:card"));
  });
  place.replaceChildren(make("p", {}, GONE), end);
  document.querySelector("main").before(place);
}
