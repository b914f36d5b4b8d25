// The number of cells that the charger shows: typed in, and held against the card's before its charge is started.

import { cardOf, keepCards } from "./card_kept.js";
import { make, write } from "./page_parts.js";

const ASKS = "Cells that the charger shows";
const EMPTY = "Type what the charger shows: then this step can be ticked.";
const DIFFERS = "The charger counts other cells than this pack has. Do not start: unplug, and look for a balance plug that is not in, a broken wire, or another pack.";

/** Makes the field. `hear` is told whether it holds the card's count. */
export function makeCount(id, step, hear) {
  const key = step.dataset.step;
  const right = step.querySelector(".step-figure .figure").textContent;
  const said = make("p", { class: "problem", role: "alert", id: "count-said" });
  const field = make("input", { id: "card-count", inputmode: "numeric", autocomplete: "off", "aria-describedby": "count-said" });
  field.value = cardOf(id).counts[key] ?? "";
  field.addEventListener("input", () => {
    cardOf(id).counts[key] = field.value;
    keepCards();
    show();
  });
  const typed = () => field.value.trim();
  // The card's figure is a number and its unit: what was typed is right where it is that number.
  const isRight = () => typed() !== "" && right.startsWith(`${typed()}\u00a0`);

  function show() {
    write(said, typed() === "" || isRight() ? "" : DIFFERS);
    field.setAttribute("aria-invalid", String(typed() !== "" && !isRight()));
    hear(isRight());
  }

  function holds() {
    if (isRight()) return true;
    write(said, typed() === "" ? EMPTY : DIFFERS);
    field.focus();
    return false;
  }

  return { parts: [make("p", { class: "entry card-count" }, make("label", { for: "card-count" }, ASKS), field), said], show, holds };
}
