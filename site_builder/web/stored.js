// What the browser keeps for the pages, as JSON under a key. Where it refuses storage, or has no room, everything goes on and
// nothing is kept: the address still holds the entries, a unit holds until the page is left, the next visit waits for the engine.

/** Returns what is kept, or null. */
export function read(key, storage = "localStorage") {
  try {
    return JSON.parse(window[storage].getItem(key));
  } catch {
    return null;
  }
}

export function keep(key, value, storage = "localStorage") {
  try {
    window[storage].setItem(key, JSON.stringify(value));
  } catch {
    // Said above.
  }
}
