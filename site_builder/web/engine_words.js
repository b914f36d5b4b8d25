// What the strip says of the engine before there is an answer to tell of.

export const COULD_NOT_START =
  "The calculator could not start on this phone. The worked example and the tables are still right: work it out by them, or close other apps and open this page again.";

const WORDS = {
  starting: { empty: "Starting. You can enter your pack now.", entered: "Starting. Your entries are kept." },
  slow: {
    empty: "Starting takes longer this time. You can enter your pack now.",
    entered: "Starting takes longer this time. Your entries are kept.",
  },
  ready: { empty: "Ready. Enter your pack.", entered: "Working it out." },
  failed: { empty: COULD_NOT_START, entered: COULD_NOT_START },
};

export const wordsOf = (state, hasEntries) => WORDS[state][hasEntries ? "entered" : "empty"];
