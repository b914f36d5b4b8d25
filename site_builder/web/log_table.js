// The log of all packs as a table for a spreadsheet: comma-separated values (RFC 4180) in UTF-8. What was typed stays as it is; the unit of a
// number that stands alone is in the head of its column.

const MARK = "\uFEFF"; // without it a spreadsheet takes UTF-8 for something else
// At the start of a cell, wherever a spreadsheet begins one: some cut at a semicolon or a tab, and take signs of full width for their own.
const BEGINS_A_FORMULA = /(^|[;\t\r\n])(\s*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])/g;
const IS_A_NUMBER = /^-?\d+([.,]\d+)?$/;

/** Returns the table of packs with their logs. `facts` has the labels, signs and kinds of a line. */
export function tableOf(packs, { labels, signs, kinds }) {
  const names = Object.keys(labels);
  const head = ["Pack", ...names.map((name) => (signs[name] && name !== "day" ? `${labels[name]} (${signs[name]})` : labels[name])), "Note"];
  const rows = packs.flatMap(({ name: pack, log }) =>
    [...log]
      .sort((one, other) => (one.entries.day < other.entries.day ? -1 : one.entries.day > other.entries.day ? 1 : 0))
      .map(({ entries, note }) => [pack, ...names.map((name) => (name === "kind" ? (kinds[entries.kind] ?? "") : (entries[name] ?? ""))), note]),
  );
  return MARK + [head, ...rows].map((row) => `${row.map(field).join(",")}\r\n`).join("");
}

/** A text that a spreadsheet would work out as a formula has an apostrophe before it. */
function field(text) {
  const safe = IS_A_NUMBER.test(text) ? text : text.replace(BEGINS_A_FORMULA, "$1$2'");
  return /[",;\t\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
