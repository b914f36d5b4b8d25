// What is due of the pilot's own packs and batteries, the packs first. After how many days, calc says; the build puts it into the script.

import { things } from "./own_kept.js";
import { daysSince, FACTS } from "./own_words.js";

/** Returns what is due as a list of {key, words, says, href}; a key is the same for as long as it is the same that is due. */
export const dueNow = () => [...things("pack").flatMap(ofPack), ...things("supply").flatMap(ofSupply)];

const isOver = (moment, days) => daysSince(moment) >= days;

function ofPack({ id, name, state, refused, checked = 0, entries, dates }) {
  if (refused) return []; // its tile says what it needs
  const { store, check, measured, again } = FACTS.due;
  const [word, moment] = state ?? ["", 0];
  const found = [];
  if (["charged", "flown"].includes(word) && isOver(moment, store)) {
    const says = word === "charged" ? `full for ${daysSince(moment)} days` : `flown ${daysSince(moment)} days ago`;
    found.push({ key: `store ${id} ${moment}`, words: `Store ${name}`, says, href: `storage.html?pick=${id}` });
  }
  const looked = Math.max(moment, checked);
  if (word === "stored" && isOver(looked, check)) {
    found.push({ key: `check ${id} ${looked}`, words: `Read the cells of ${name}`, says: `not read for ${daysSince(looked)} days`, href: `cell-check.html?pick=${id}` });
  }
  const old = again.filter((one) => entries[one] && dates[one] && isOver(dates[one], measured));
  if (old.length) {
    const oldest = Math.min(...old.map((one) => dates[one]));
    found.push({ key: `measure ${id} ${oldest}`, words: `Measure ${name} anew`, says: `measured ${daysSince(oldest)} days ago`, href: `my-packs.html?log=${id}&line=check` });
  }
  return found;
}

function ofSupply({ id, name, state }) {
  const [word, moment] = state ?? ["", 0];
  const says = `${word} ${daysSince(moment)} days ago`;
  const href = `my-supplies.html?id=${id}`;
  if (word === "used" && isOver(moment, FACTS.due.refill)) return [{ key: `fill ${id} ${moment}`, words: `Fill up ${name}`, says: daysSince(moment) === 1 ? "used yesterday" : says, href }];
  if (word === "filled" && isOver(moment, FACTS.due.battery)) return [{ key: `read ${id} ${moment}`, words: `Read ${name} at rest`, says, href }];
  return [];
}
