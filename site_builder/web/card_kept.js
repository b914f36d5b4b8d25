// The running card, one for all pages and tabs, as the browser keeps it. Where storage is refused everything goes on, but nothing
// is kept.

export const RUNNING_CARD = "fieldslate.running-card"; // while it is there, offline.js holds a new version back

let card = null; // { page, title, started, html, ticked, notes, timers, silent }: all that survives a reload
let text = null; // as last read or written here

export const runningCard = () => card;
/** The card that runs, if it is that of the page that is open. */
export const cardHere = () => (card?.page === document.body.dataset.page ? card : null);
export const addressOf = ({ page }) => `${page}.html`;

/** Says whether the card is now kept. */
export function beginCard(begun) {
  card = begun;
  return keepCard();
}

/** The same, once it has changed. */
export function keepCard() {
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
  card = text = null;
  try {
    localStorage.removeItem(RUNNING_CARD);
  } catch {
    // Nothing was kept either.
  }
}

/** Takes over what the phone has, and says whether that is another card, or another state of it, than this page had. */
export function takeKeptCard() {
  const found = read();
  if (found === text) return false;
  text = found;
  card = parse(found);
  if (found && !card) forgetCard(); // what cannot be shown would hold every new version back
  return true;
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
    const kept = JSON.parse(found);
    return kept?.html ? { page: "charging-card", title: "Charging card", ...kept } : null; // the only card there once was
  } catch {
    return null;
  }
}
