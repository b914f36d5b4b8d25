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
