// What the quick start changes of the browser's own before Pyodide comes, so that it need not do the same work twice. The plain start, which
// is there for when something here is wrong, changes nothing.

/**
 * Has a WebAssembly compiled while the rest comes: Pyodide, which asks for it last, is given the result. It is what `comes`, compiled by
 * somebody else, or where that is nothing it is compiled here.
 */
export function compileAhead(comes, address) {
  const fetchOther = self.fetch;
  const compiled = Promise.resolve(comes).then((wasm) => wasm ?? WebAssembly.compileStreaming(fetchOther(address)));
  self.fetch = (asked, ...how) => (String(asked) === address ? compiled : fetchOther(asked, ...how));
  WebAssembly.instantiateStreaming = async (asked, imports) => {
    const module = await asked;
    return { module, instance: await WebAssembly.instantiate(module, imports) };
  };
  return compiled;
}

/** For each function of its own that Python may call, Pyodide compiles a few bytes: 260 times, and 29 of them differ. */
export function compileAlikeOnce() {
  const known = new Map();
  WebAssembly.Module = new Proxy(WebAssembly.Module, {
    construct(Module, [bytes]) {
      const key = String(bytes);
      if (!known.has(key)) known.set(key, new Module(bytes));
      return known.get(key);
    },
  });
}

/**
 * Pyodide makes a memory to share with others and needs it only to wait for typed lines. Chromium notes each such memory with its
 * place in the script, and for that reads all of Pyodide's script once more.
 */
export function shareNoMemory() {
  WebAssembly.Memory = class extends WebAssembly.Memory {
    constructor({ shared, ...size }) {
      super(size);
    }
  };
}
