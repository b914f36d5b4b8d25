// How a page, its worker and the service worker speak. One side asks, the other answers or says what went wrong, and whoever asks never
// waits for ever. A question travels with a port of its own, so that no answer can be taken for another's.

/** The tag of the notice of what is due, where a later one takes the place of the one before, and what an open page is told after a tap on it. */
export const DUE = "due";

/** What the other side says went wrong: a sentence, and perhaps more beside it. */
export class Failed extends Error {
  constructor(told) {
    super(told.sentence);
    this.told = told;
  }
}

/** Nothing was said in time. */
export class NoAnswer extends Error {}

/**
 * Asks a worker and returns its answer. Rejects with Failed; with NoAnswer after `limit` milliseconds, unless `goesOn` says that there is
 * reason to wait as long again; or with the reason for which the signal `ended` is aborted.
 */
export function ask(other, kind, given, { limit, goesOn = () => false, ended }) {
  const { port1: mine, port2: its } = new MessageChannel();
  let clock;
  return new Promise((resolve, reject) => {
    ended?.throwIfAborted();
    ended?.addEventListener("abort", () => reject(ended.reason), { once: true });
    const wait = () => (clock = setTimeout(() => (goesOn() ? wait() : reject(new NoAnswer("it took too long"))), limit));
    wait();
    mine.onmessage = ({ data }) => (data?.kind === "failed" ? reject(new Failed(data)) : resolve(data));
    other.postMessage({ kind, ...given }, [its]);
  }).finally(() => {
    clearTimeout(clock);
    mine.close();
  });
}

/** Returns what answers a "message" event by the job of its kind. What a job that fails has to say beside its sentence is the error's `told`. */
export function answeringBy(jobs) {
  return async ({ data: { kind, ...given }, ports: [port] }) => {
    let answer;
    try {
      answer = await jobs[kind](given);
    } catch (error) {
      answer = { sentence: lastLine(error), ...error?.told, kind: "failed" };
    }
    port?.postMessage(answer);
  };
}

// A Python error is a whole traceback: its last line says what happened.
const lastLine = (error) => String(error?.message ?? error).trim().split("\n").at(-1);
