// Runs Python, so that the page never freezes. Text comes in, text goes out; each message carries its question's id.

// A browser compiles WebAssembly anew, faster, where it is used much. So often is the first question worked out once more.
const TIMES_FOR_SPEED = 25;

let respond;
let isFast = false;

self.onmessage = async ({ data }) => {
  if (data.kind === "boot") return boot(data);
  const { id, calculator, entries, units } = data;
  const question = [calculator, JSON.stringify(entries), JSON.stringify(units)];
  try {
    const text = respond(...question);
    self.postMessage({ id, ...JSON.parse(text) });
  } catch (error) {
    return self.postMessage({ id, kind: "fault", sentence: lastLine(error) });
  }
  if (!isFast) getFast(question);
};

// Before the pilot types on. A question that comes meanwhile waits for one of these at most.
async function getFast(question) {
  isFast = true;
  for (let time = 0; time < TIMES_FOR_SPEED; time += 1) {
    await new Promise((others) => setTimeout(others));
    respond(...question);
  }
}

async function boot({ engine, way }) {
  try {
    import(`${engine}pyodide.asm.mjs`).catch(() => {}); // start.mjs wants it, and it is long: it comes meanwhile
    compileAlikeOnce();
    shareNoMemory();
    const compiled = compileAhead(`${engine}pyodide.asm.wasm`);
    const starting = way === "quick" ? startQuickly(engine) : startPlainly(engine);
    // Pyodide waits for ever for a WebAssembly that does not compile: here that is a failure.
    respond = await Promise.race([starting, compiled.then(() => starting)]);
    self.postMessage({ kind: "ready" });
  } catch (error) {
    self.postMessage({ kind: "failed", sentence: lastLine(error) });
  }
}

// gzip's own checksum refuses a damaged snapshot: one that is used as it came would answer with damaged numbers.
async function startQuickly(engine) {
  const snapshot = fetched(`${engine}snapshot.bin`).then(({ body }) =>
    new Response(body.pipeThrough(new DecompressionStream("gzip"))).arrayBuffer(),
  );
  const { startFromSnapshot } = await import(`${engine}start.mjs`);
  return startFromSnapshot(snapshot);
}

async function startPlainly(engine) {
  const { startPlainly } = await import(`${engine}start.mjs`);
  return startPlainly();
}

// Pyodide begins to compile only when it has read the snapshot. Here that goes on meanwhile, and Pyodide is given the result.
function compileAhead(address) {
  const fetchOther = self.fetch;
  const compiled = WebAssembly.compileStreaming(fetched(address));
  self.fetch = (asked, ...how) => (String(asked) === address ? compiled : fetchOther(asked, ...how));
  WebAssembly.instantiateStreaming = async (asked, imports) => {
    const module = await asked;
    return { module, instance: await WebAssembly.instantiate(module, imports) };
  };
  return compiled;
}

// For each function of its own that Python may call, Pyodide compiles a few bytes: 260 times, and 29 of them differ.
function compileAlikeOnce() {
  const known = new Map();
  WebAssembly.Module = new Proxy(WebAssembly.Module, {
    construct(Module, [bytes]) {
      const key = String(bytes);
      if (!known.has(key)) known.set(key, new Module(bytes));
      return known.get(key);
    },
  });
}

// Pyodide makes a memory to share with others and needs it only to wait for typed lines. Chromium notes each such memory with
// its place in the script, and for that reads all of Pyodide's script once more.
function shareNoMemory() {
  WebAssembly.Memory = class extends WebAssembly.Memory {
    constructor({ shared, ...size }) {
      super(size);
    }
  };
}

async function fetched(address) {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${response.status} for ${response.url}`);
  return response;
}

// A Python error is a whole traceback: its last line says what happened.
function lastLine(error) {
  return String(error.message ?? error).trim().split("\n").at(-1);
}
