// The output of the charger at which the pack of a card hangs: chosen where several are charged side by side.

import { cardOf, keepCards, MOST_OUTPUTS, runningCards } from "./card_kept.js";
import { cardsChanged } from "./card_watch.js";
import { make } from "./page_parts.js";

export function makeOutput(id, changed) {
  const mine = cardOf(id).output;
  if (mine === null) return [];
  const taken = runningCards().map(({ output }) => output).filter((output) => output !== mine);
  const choice = make("select", { id: "card-output" });
  for (let output = 1; output <= MOST_OUTPUTS; output += 1) {
    const option = make("option", { value: output }, `Output ${output}`);
    option.disabled = taken.includes(output);
    option.selected = output === mine;
    choice.append(option);
  }
  choice.addEventListener("change", async () => {
    cardOf(id).output = choice.selectedIndex + 1;
    await keepCards();
    cardsChanged();
    changed();
  });
  return [make("p", { class: "entry" }, make("label", { for: "card-output" }, "Output of the charger"), choice)];
}
