// Says on a card that a label of its packs was changed since it was started: its numbers stay those that it began with.

import { packsOf } from "./card_line.js";
import { thingOf } from "./own_kept.js";
import { hide, make, write } from "./page_parts.js";

/** What was added to a label since, such as what its form starts with, changes nothing that a card has. */
const isAnother = (label, { entries }) => Object.entries(label).some(([name, text]) => entries[name] !== text);

/** Makes the place of it; `show` looks whether there is something to say. A card of a former version knows no label of before. */
export function makeChanged(card) {
  const part = make("p", { class: "problem", role: "alert" });
  show();
  return { part, show };

  function show() {
    const packs = packsOf(card).map(({ id, label }) => ({ label, now: thingOf("pack", id) }));
    const changed = packs.filter(({ label, now }) => label && now && isAnother(label, now));
    const names = changed.map(({ now }) => now.name).join(", ");
    hide(part, !names);
    write(part, names && `What is entered of ${names} was changed after this card was started. The numbers here are those of before: if they are wrong, stop the charge and start a new card.`);
  }
}
