// Looks whether what was saved is still as it was, and fetches again what is not.

import { letGo } from "../let_go.js";
import { contents } from "./built.js";
import { saved } from "./host.js";
import { storedIntact } from "./store.js";
import { currentList, mendLists } from "./versions.js";

/** Looks at everything at once, for an engine that did not start. */
export async function check() {
  const mended = [];
  const missing = [];
  for (const file of (await currentList()).files) {
    const found = await mendIfNeeded(file);
    if (found !== "intact") (found === "mended" ? mended : missing).push(file.path);
  }
  await mendLists().catch(() => {});
  return { kind: "checked", mended, missing };
}

/** Looks at the file in that place of the list and says which comes next: 0 after the last. The page asks, with pauses between. */
export async function look({ place }) {
  const files = contents((await currentList()).files);
  if (place === 0) await mendLists().catch(() => {});
  const file = files[place];
  const found = file ? await mendIfNeeded(file) : "intact";
  return { kind: "looked", next: place + 1 < files.length ? place + 1 : 0, isMissing: found === "missing" };
}

async function mendIfNeeded(file) {
  const body = await storedIntact(file);
  if (!body) return (await saved(file)) ? "missing" : "mended";
  letGo(body);
  return "intact";
}
