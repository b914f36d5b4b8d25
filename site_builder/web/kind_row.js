// The kinds of pack as a row of buttons, each a tap, in the place of a list that opens. None is pressed before the pilot presses it.

import { FACTS } from "./own_words.js";
import { make, makeButton, write } from "./page_parts.js";

/** Puts the row above a list, which stays as what the form holds. */
export function makeKindRow(select) {
  const label = document.querySelector(`label[for="${select.id}"]`);
  label.id = `${select.id}-label`;
  const row = make("div", { class: "kinds", role: "group", "aria-labelledby": label.id });
  const options = [...select.options].filter(({ value }) => value !== "");
  const buttons = options.map((option) => {
    const choose = () => {
      select.value = option.value;
      select.dispatchEvent(new Event("input", { bubbles: true }));
    };
    const short = FACTS.short[option.value];
    return makeButton(short, choose, { "data-kind": option.value, "aria-label": `${short}: ${option.textContent}` });
  });
  const whole = make("p", { class: "hint", "aria-live": "polite" });
  const mark = () => {
    buttons.forEach((button) => button.setAttribute("aria-pressed", button.dataset.kind === select.value));
    write(whole, options.find(({ value }) => value === select.value)?.textContent ?? "Take the one that its label names.");
  };
  select.addEventListener("input", mark);
  select.hidden = true;
  row.append(...buttons);
  select.before(row, whole);
  mark();
}
