// What the build knows: site_builder/building/offline.py writes it before this script, as BUILT.
//
// `files`: {path, sha256, size, type, first, packed, checksSelf} each, in the order in which they are saved. `first`: it helps
// against a fire. `packed`: the size of path.gz, which is fetched in its place and unpacked; the hash is of what is in it.
// `checksSelf`: it holds a checksum, and whoever unpacks it refuses it damaged. `firstAid`: the pages against a fire, whole,
// deflated and as base64, by path. `firstWords`: the first sentences of the one that matters most.

const { version, headers, files, firstAid, firstWords } = BUILT;

export const OURS = { version, headers, files };
export { firstAid as FIRST_AID, firstWords as FIRST_WORDS };

export const SCOPE = self.registration.scope;
export const SCOPE_PATH = new URL(SCOPE).pathname;

const UNPACKS = "DecompressionStream" in self;
export const isSentPacked = (file) => UNPACKS && file.packed > 0;
export const sentSize = (file) => (isSentPacked(file) ? file.packed : file.size);
export const sentBytes = (some) => some.reduce((sum, file) => sum + sentSize(file), 0);
export const contents = (some) => [...new Map(some.map((file) => [file.sha256, file])).values()];

export function fileAt(url, list) {
  const path = decodedPath(url) || "index.html";
  return list.files.find((file) => file.path === path || file.path === `${path}.html`);
}

function decodedPath(url) {
  const { pathname } = new URL(url);
  try {
    return decodeURIComponent(pathname.slice(SCOPE_PATH.length));
  } catch {
    return pathname; // a stray % sign: no file of ours
  }
}
