// Looks at what is on this phone, one file after the other and with pauses, so that what the page says of it stays true.

const FIRST_MS = 15_000; // the answer comes first
const PAUSE_MS = 500;
const ROUND_MS = 600_000;

let next = null;

/** Asks `look(place)` for one file after the other, round after round, and tells after each round whether one is missing. */
export function lookInTurn(look, tell) {
  let isMissing = false;
  const turn = async (place) => {
    if (document.hidden) return wait(turn, place, ROUND_MS);
    const seen = await look(place).catch(() => null);
    if (!seen) return wait(turn, place, ROUND_MS); // nobody answers
    if (seen.isMissing && !isMissing) tell({ isMissing: (isMissing = true) });
    if (seen.next > 0) return wait(turn, seen.next, PAUSE_MS);
    if (!isMissing) tell({ isMissing });
    isMissing = false;
    wait(turn, 0, ROUND_MS);
  };
  if (next === null) wait(turn, 0, FIRST_MS);
}

function wait(turn, place, time) {
  next = setTimeout(turn, time, place);
}
