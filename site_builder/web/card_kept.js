// The running card as the browser keeps it. Where storage is refused everything goes on, but nothing is kept.

export const RUNNING_CARD = "fieldslate.running-card"; // while it is there, offline.js holds a new version back

let text = null; // as last read or written here

/** Says whether the card is now kept. */
export function keepCard(card) {
  const now = JSON.stringify(card);
  try {
    localStorage.setItem(RUNNING_CARD, now);
  } catch {
    return false;
  }
  text = now;
  return true;
}

export function forgetCard() {
  text = null;
  try {
    localStorage.removeItem(RUNNING_CARD);
  } catch {
    // Nothing was kept either.
  }
}

/** Returns undefined if nothing has changed since the last call, else the card that is kept, or null for none. */
export function changedCard() {
  const found = read();
  if (found === text) return undefined;
  text = found;
  const card = parse(found);
  if (found && !card) forgetCard(); // what cannot be shown would hold every new version back
  return card;
}

function read() {
  try {
    return localStorage.getItem(RUNNING_CARD);
  } catch {
    return null;
  }
}

function parse(found) {
  try {
    const card = JSON.parse(found);
    return card?.html ? card : null;
  } catch {
    return null;
  }
}
