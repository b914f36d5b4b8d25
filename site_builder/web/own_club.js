// The club's example set among the pilot's own things: all of it is put in, and taken out, by one tap.

import { changeTogether, takeOut } from "./own_kept.js";

/** Returns the club's things by kind, as they are kept. The build has put them into the page. */
export const clubThings = () => JSON.parse(document.getElementById("own").dataset.club);

/** Returns what `make` makes of each kind and the club's things of it, by kind. */
const eachOf = (make) => Object.fromEntries(Object.entries(clubThings()).map(([kind, club]) => [kind, make(kind, club)]));

/** Puts the club's things in, or takes them out and returns what puts them back. */
export const showClub = (isIn) =>
  isIn ? changeTogether(eachOf((_, club) => (all) => [...all.filter(({ id }) => !club.some((one) => one.id === id)), ...club])) : takeOut(eachOf((_, club) => club.map(({ id }) => id)));
