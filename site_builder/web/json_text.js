// One way of writing JSON, so that two programs have the same checksum of the same content: names in order and no space (RFC 8785). What is
// written here has whole numbers alone, which every program writes alike.

import { crc32 } from "./checksum.js";
import { isGroup } from "./shapes.js";

export function ordered(value) {
  if (Array.isArray(value)) return `[${value.map(ordered).join(",")}]`;
  if (!isGroup(value)) return JSON.stringify(value);
  return `{${Object.keys(value)
    .sort()
    .map((name) => `${JSON.stringify(name)}:${ordered(value[name])}`)
    .join(",")}}`;
}

export const isAlike = (one, other) => ordered(one) === ordered(other);

/** Returns a record with the checksum of all else in it. */
export const withChecksum = (record) => ({ ...record, checksum: crc32(ordered(record)) });

export function hasItsChecksum({ checksum, ...record }) {
  return checksum === crc32(ordered(record));
}
