// What stays on top of an open card: whose it is, the numbers to compare with the charger, and the time left.

import { cardOf } from "./card_kept.js";
import { running, timeLeft } from "./card_time.js";
import { listed, make, write } from "./page_parts.js";

const NUMBERS = "[data-on-top] .figure, .card-numbers [data-on-top]";

export function makeStrip(card, body) {
  const time = make("span", { class: "time-left", role: "timer", "aria-live": "off" });
  const others = make("p", { class: "card-others" });
  const numbers = [...body.querySelectorAll(NUMBERS)].filter((one) => /\u00a0/.test(one.textContent) && !one.closest(".step")?.querySelector(".timer"));
  const head = make("p", { class: "card-head" }, make("span", {}, make("b", {}, card.name || card.label || card.title), card.name && card.label ? ` · ${card.label}` : ""), time);
  const part = make("section", { class: "card-strip", "aria-label": "Numbers of this card" }, head);
  if (numbers.length) part.append(make("p", { class: "card-numbers" }, listed(numbers.map(({ textContent }) => textContent))));
  part.append(others);

  function show() {
    const now = cardOf(card.id);
    const top = timeLeft(now);
    const rest = running(now).filter(({ key }) => key !== top?.key);
    write(time, top?.words ?? "");
    write(others, listed(rest.map(({ title, words }) => `${title} ${words}`)));
  }

  return { part, show };
}
