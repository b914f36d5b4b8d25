// What a start from the snapshot has from elsewhere: the build takes it out of the snapshot, and the start puts it back.
//
// - The memory of Pyodide's WebAssembly before anything has run in it, "first memory". The WebAssembly brings it along
//   anyway, and packed it is a quarter of the snapshot.
// - What is empty, two thirds of it: a phone would unpack it for nothing.
// - Where Python finds the function through which it calls C: Pyodide makes one that this browser can run, or none on those
//   that cannot (iOS), before the snapshot is laid over it.

/** Has `job` called with the WebAssembly's exports when its memory holds what its file says and nothing else. */
export function withFirstMemory(settings, job) {
  const instantiate = settings.instantiateWasm;
  settings.instantiateWasm = (imports, receive) =>
    instantiate(imports, (instance, module) => {
      job(instance.exports);
      receive(instance, module);
    });
  return settings;
}

/** Returns a copy of it, up to where the stack begins: from there on it is empty. */
export function firstMemory({ memory, __stack_low }) {
  return new Uint8Array(memory.buffer.slice(0, __stack_low.value));
}

/** Takes it out of a snapshot, or puts it back: what is equal becomes 0, and 0 becomes what was equal. */
export function exchange(snapshot, first) {
  const [heap, known] = [heapOf(snapshot), first].map(inWords);
  for (let place = 0; place < known.length; place++) heap[place] ^= known[place];
}

// A quarter of the steps that bytes would take.
const inWords = (bytes) => new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length >> 2);

const PIECE = 4096;

/** Leaves out what is empty: then come the whole length, how many spans are left, where each begins and its length, and they. */
export function folded(snapshot) {
  const spans = [];
  for (let begin = 0; begin < snapshot.length; begin += PIECE) {
    const piece = snapshot.subarray(begin, begin + PIECE);
    if (piece.every((byte) => byte === 0)) continue;
    const last = spans.at(-1);
    if (last && last.begin + last.length === begin) last.length += piece.length;
    else spans.push({ begin, length: piece.length });
  }
  const head = new Uint32Array([snapshot.length, spans.length, ...spans.flatMap(({ begin, length }) => [begin, length])]);
  const bytes = new Uint8Array(head.byteLength + spans.reduce((sum, { length }) => sum + length, 0));
  bytes.set(new Uint8Array(head.buffer));
  let place = head.byteLength;
  for (const { begin, length } of spans) {
    bytes.set(snapshot.subarray(begin, begin + length), place);
    place += length;
  }
  return bytes;
}

/** Returns a snapshot that was folded, whole. */
export function unfolded(bytes) {
  const [whole, spans] = new Uint32Array(bytes.buffer, bytes.byteOffset, 2);
  const head = new Uint32Array(bytes.buffer, bytes.byteOffset, 2 + 2 * spans);
  const snapshot = new Uint8Array(whole);
  let place = head.byteLength;
  for (let at = 2; at < head.length; at += 2) {
    snapshot.set(bytes.subarray(place, place + head[at + 1]), head[at]);
    place += head[at + 1];
  }
  return snapshot;
}

/** Returns the heap in a snapshot: the second number of its head says where that begins. */
export function heapOf(snapshot) {
  const [, begin] = new Uint32Array(snapshot.buffer, snapshot.byteOffset, 2);
  return snapshot.subarray(begin);
}

/** Returns the bytes of a heap that say where this browser's function is. */
export function callerIn(heap, pyodide) {
  const place = pyodide.__PyRuntime + pyodide.HEAP32[pyodide.__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4];
  return heap.subarray(place, place + 4);
}
