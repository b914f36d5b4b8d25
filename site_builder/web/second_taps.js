// Cold fingers tap twice, and the second tap must do nothing.

/** For so long after a tap another one may be the same finger's. */
export const SECOND_TAP_MS = 700;

/** Returns what says of each tap whether it is such a second one, and counts for nothing. */
export function secondTaps() {
  let counted = -Infinity; // by the clock that nobody can set
  return () => {
    const isSecond = performance.now() - counted < SECOND_TAP_MS;
    if (!isSecond) counted = performance.now();
    return isSecond;
  };
}

/** Returns what does `act`, and nothing while that is still being done: the second tap finds the same button there, and would do it to what the first has left. */
export function oneAtATime(act) {
  let isBeingDone = false;
  return async () => {
    if (isBeingDone) return;
    isBeingDone = true;
    await act().finally(() => (isBeingDone = false));
  };
}

const NEAR_PX = 40; // no finger comes down twice at the very same point
const CONTROLS = "a, button, summary, label, select";
const CHOICES = "[aria-pressed], summary, label";

let isFinger = false; // whether what was pressed last was pressed by one: a mouse and the keyboard do not tremble
let counted = null; // {control, x, y, moment}: the last tap that counted

/** Has a finger's second tap count for nothing where the first has put something else under it: nobody has read that yet. */
export function start() {
  addEventListener("pointerdown", ({ pointerType }) => (isFinger = pointerType !== "mouse"), true);
  addEventListener("keydown", () => (isFinger = false), true);
  addEventListener("click", clicked, true); // before whatever hears of it
}

function clicked(event) {
  if (!isFinger || !event.isTrusted) return;
  if (isAstray(event)) {
    event.preventDefault();
    event.stopImmediatePropagation();
    return;
  }
  const control = event.target.closest?.(CONTROLS);
  if (control) counted = { control, x: event.clientX, y: event.clientY, moment: performance.now() };
}

function isAstray({ clientX, clientY }) {
  if (!counted || performance.now() - counted.moment > SECOND_TAP_MS) return false;
  const { control, x, y } = counted;
  return Math.hypot(clientX - x, clientY - y) < NEAR_PX && !isSame(document.elementFromPoint(x, y)?.closest(CONTROLS), control);
}

/** A choice that was made anew as it was taken is the same one: a second tap takes it back. */
function isSame(now, before) {
  if (now === before) return true;
  return Boolean(now?.matches(CHOICES)) && before.matches(CHOICES) && nameOf(now) === nameOf(before);
}

/** What a choice is known by, though its words change as it is taken. */
const nameOf = (choice) => (choice.control ?? choice).dataset.choice ?? choice.ariaLabel ?? choice.textContent;
