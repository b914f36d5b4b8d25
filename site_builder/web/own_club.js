// The club's example set among the pilot's own things: all of it is put in, and taken out, by one tap.

import { remove, putBack, save, things } from "./own_kept.js";

/** Returns the club's things by kind, as they are kept. The build has put them into the page. */
export const clubThings = () => JSON.parse(document.getElementById("own").dataset.club);

/** Puts the club's things in, or takes them out. Returns what puts back what was there before. */
export async function showClub(isIn) {
  const club = Object.entries(clubThings());
  const before = club.map(([kind]) => [kind, things(kind)]);
  for (const [kind, all] of club) {
    for (const thing of all) await (isIn ? save(kind, thing) : remove(kind, thing.id));
  }
  return () => Promise.all(before.map(([kind, list]) => putBack(kind, list)));
}
