// A list that is kept: a line for each of its things, each behind a checksum of its own, so that damage to one loses that one and no other.
// The whole list stays one record: its order is kept, and what is moved or taken out of it is written in one go.

import { checksum } from "./checksum.js";

const LINES = 2; // the version of a record in lines; before, a list was one JSON text
const A_NAME = /"name":("(?:[^"\\\\]|\\\\.)*")/;

/** Returns a list as the text that is kept. */
export const textOf = (name, list) => list.map((one) => sealed(name, JSON.stringify(one))).join("\n");

const sealed = (name, text) => `${checksum(name, LINES, text)} ${text}`;

/** Returns {value, lost}: the things of a record that are whole, and the names of those that are not; no value where nothing can be told. */
export function openedList({ name, eachFits }, record) {
  if (record.version === LINES) return sorted(record.value.split("\n").filter(Boolean), (line) => thingIn(line, name), eachFits);
  if (record.version !== 1 || record.checksum !== checksum(name, 1, record.value)) return { value: undefined, lost: [] };
  return sorted(JSON.parse(record.value), (one) => one, eachFits);
}

function sorted(parts, thingOf, eachFits) {
  const found = parts.map((part) => [part, thingOf(part)]);
  const isWhole = ([, thing]) => thing !== null && eachFits(thing);
  const lost = found.filter((one) => !isWhole(one)).map(([part]) => nameIn(typeof part === "string" ? part : JSON.stringify(part)));
  return { value: found.filter(isWhole).map(([, thing]) => thing), lost };
}

function thingIn(line, name) {
  const text = line.slice(line.indexOf(" ") + 1);
  return line === sealed(name, text) ? JSON.parse(text) : null;
}

function nameIn(text) {
  try {
    return JSON.parse(A_NAME.exec(text)[1]);
  } catch {
    return "one whose name cannot be read";
  }
}
