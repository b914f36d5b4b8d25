// A checksum of what is kept: CRC-32, as in zip and PNG (ISO 3309). It finds every flip of one bit, and it is there at once, where the
// browser's own digests have to be waited for and exist in secure places only.

const POLYNOMIAL = 0xedb88320;

const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? (rest >>> 1) ^ POLYNOMIAL : rest >>> 1;
  return rest;
});

/** Returns the checksum of a record's name, version and text, so that one record is never taken for another. */
export const checksum = (name, version, text) => crc32(`${name}\n${version}\n${text}`);

/** Returns the checksum of a text in UTF-8. */
export function crc32(text) {
  let rest = 0xffffffff;
  for (const byte of new TextEncoder().encode(text)) rest = table[(rest ^ byte) & 0xff] ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
}
