// Has what lies on this phone put right before the engine is started once more.

import { goOnWithStored } from "./new_version.js";
import { check, stateOf } from "./service_questions.js";

/** Has every file on the phone checked and fetched again where it is damaged. A host that says nothing is not waited for. */
export async function mend() {
  const worker = (await navigator.serviceWorker?.getRegistration())?.active;
  const nothing = { kind: "checked", mended: [], missing: [] };
  if (!worker) return nothing;
  try {
    const { isOfPage } = await stateOf(worker);
    if (isOfPage) return await check(worker);
    goOnWithStored();
  } catch {
    // It says nothing, or cannot look: the next start goes on with what is there.
  }
  return nothing;
}
