// What the strip says of the engine before there is an answer to tell of.

export const COULD_NOT_START =
  "The calculator could not start on this phone. It tries again when there is a signal and each time you come back to this page. The worked example and the tables are still right: work it out by them, or close other apps.";

// By its state, and by what stands on the page.
const WORDS = {
  starting: { noEntries: "Starting. You can enter your pack now.", entries: "Starting. Your entries are kept." },
  slow: {
    noEntries: "Starting takes longer this time. You can enter your pack now.",
    entries: "Starting takes longer this time. Your entries are kept.",
    lastAnswer: "Starting takes longer this time. Your entries are kept.",
  },
  ready: { noEntries: "Ready. Enter your pack.", entries: "Working it out." },
  failed: {
    noEntries: COULD_NOT_START,
    lastAnswer: "The calculator could not start. Your last answer stands, from the same entries.",
  },
};

/** Returns the words, or undefined where what stands on the page says enough. */
export const wordsOf = (state, page) => WORDS[state][page];
