// When the engine may start, and whether it runs. On a first visit page and service worker would both fetch it: it waits until all it
// asks for goes through the latter.

let open;
let runs = false;

export const engineMayStart = new Promise((resolve) => (open = resolve));
export const letEngineStart = () => open();

/** The calculator runs: whatever version takes over, this page is whole. */
export const engineIsUp = () => (runs = true);
export const engineRuns = () => runs;
