// A tap that has begun. What would move the lines of the page waits until it has counted, or the finger would come up beside its line.

const LONGEST_MS = 700; // a finger that rests longer than this does not tap
const CLICK_MS = 100; // a finger that is up is followed by its click within this, or by none

let act = null; // what waits
let isDown = false;
let isCounted = false; // its click has come, and is being done
let timer;

/** Does `change` now, or as soon as the tap that has begun is over; the newest that waits is the only one. */
export function afterTap(change) {
  if (!isDown) return change();
  act = change;
}

/** Says whether a tap has begun, and has not counted yet. */
export const tapHasBegun = () => isDown && !isCounted;

function begin() {
  isDown = true;
  isCounted = false;
  until(LONGEST_MS);
}

function until(milliseconds) {
  clearTimeout(timer);
  timer = setTimeout(end, milliseconds);
}

function end() {
  isDown = false;
  const change = act;
  act = null;
  change?.();
}

const away = () => isDown && until(CLICK_MS);

function over() {
  if (!isDown) return;
  isCounted = true;
  until(0); // the page does first what the click asks of it
}

addEventListener("pointerdown", begin, true);
addEventListener("pointerup", away, true);
addEventListener("pointercancel", over, true);
addEventListener("click", over, true);
