// Entries that had another name in a copy that somebody may still have: in a link, a bookmark, or in what their phone keeps.

const NOW_CALLED = { asked_rate_c: "requested_rate_c" };

/** Returns the name that an entry has now. */
export const nameNow = (name) => (Object.hasOwn(NOW_CALLED, name) ? NOW_CALLED[name] : name);
