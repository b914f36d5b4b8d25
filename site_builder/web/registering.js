// Brings the service worker, or finds out why it does not come.

import { CANNOT_KEEP, NO_ANSWER, NOT_THERE, SIGN_IN } from "./offline_words.js";
import { scriptAddress } from "./trusted.js";

const WORKER = "./service-worker.js";
const LIMIT_MS = 20_000; // a host that does not send its script

/** Returns the registration. `later` is called if the host takes too long and sends it after all. */
export async function register(later) {
  const registering = navigator.serviceWorker.register(scriptAddress(WORKER), { scope: "./" });
  const limit = new Promise((_, reject) => setTimeout(reject, LIMIT_MS, new DOMException("", "TimeoutError")));
  try {
    return await Promise.race([registering, limit]);
  } catch (error) {
    if (error.name === "TimeoutError") registering.then(later, () => {});
    throw error;
  }
}

/**
 * Returns what to say of an error of `register`, or null if the signal is lost: the browser does not tell a script that it
 * refuses from one that the host, or somebody on the way, did not send.
 */
export async function reasonFor(error) {
  if (error.name === "TimeoutError") return NO_ANSWER;
  const response = await fetch(WORKER, { redirect: "manual", cache: "no-store", signal: AbortSignal.timeout(LIMIT_MS) }).catch(() => null);
  if (!response) return null;
  const isScript = /javascript/.test(response.headers.get("content-type"));
  if (response.type === "opaqueredirect" || (response.ok && !isScript)) return SIGN_IN;
  return response.ok ? CANNOT_KEEP : NOT_THERE;
}
