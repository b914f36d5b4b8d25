// Text that came from elsewhere, as it may stand in a line of ours.

// What shows nothing, and what turns round the order of the text beside it: with one of them in a name, 5000 mAh would read 0005.
const UNSEEN = /[\p{Cc}\u00AD\u061C\u200B\u200E\u200F\u202A-\u202E\u2060-\u206F\uFEFF]/gu;

/** Returns a text as one line in which every character is seen, but for those that join letters. */
export const plain = (text) => text.replace(/\s+/g, " ").replace(UNSEEN, "").trim();

/** Returns as much of a text as there is room for. */
export const shortened = (text, most) => [...text].slice(0, most).join("");
