// When the engine may start, and whether it runs. On a first visit page and service worker would both fetch it: it waits until all it
// asks for goes through the latter.

let open, up;
let runs = false;

export const engineMayStart = new Promise((resolve) => (open = resolve));
export const engineUp = new Promise((resolve) => (up = resolve));
export const letEngineStart = () => open();

/** The calculator runs: whatever version takes over, this page is whole. */
export function engineIsUp() {
  runs = true;
  up();
}
export const engineRuns = () => runs;
