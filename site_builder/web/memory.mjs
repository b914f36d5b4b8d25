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

/** Takes it out of a heap: what is equal becomes 0. Done twice, nothing has changed. */
export function exchange(heap, first) {
  const [words, known] = [heap, first].map((bytes) => inWords(bytes, 0, first.length));
  for (let place = 0; place < known.length; place++) words[place] ^= known[place];
}

// A quarter of the steps that bytes would take.
const inWords = (bytes, begin, end) => new Uint32Array(bytes.buffer, bytes.byteOffset + begin, (end - begin) >> 2);

/** Returns the head of a snapshot as Pyodide makes it, and its heap: the second number of the head says where that begins. */
export function parts(snapshot) {
  const [, begin] = inWords(snapshot, 0, 8);
  return { head: snapshot.subarray(0, begin), heap: snapshot.subarray(begin) };
}

const PIECE = 4096;

/**
 * Leaves out what is empty in a heap. Four-byte numbers come first: the length of the head, that of the heap, how many spans
 * of it are left, and for each its place and its length. Then come the head and the spans.
 */
export function folded({ head, heap }) {
  const spans = [];
  for (let begin = 0; begin < heap.length; begin += PIECE) {
    if (inWords(heap, begin, begin + PIECE).every((word) => word === 0)) continue;
    const last = spans.at(-1);
    if (last && last.begin + last.length === begin) last.length += PIECE;
    else spans.push({ begin, length: PIECE });
  }
  const table = [head.length, heap.length, spans.length, ...spans.flatMap(({ begin, length }) => [begin, length])];
  const all = [new Uint8Array(new Uint32Array(table).buffer), head];
  for (const { begin, length } of spans) all.push(heap.subarray(begin, begin + length));
  const bytes = new Uint8Array(all.reduce((sum, { length }) => sum + length, 0));
  all.reduce((place, part) => (bytes.set(part, place), place + part.length), 0);
  return bytes;
}

/** Returns the head of a folded snapshot, the length of its heap, and the spans of it: {begin, bytes} each. */
export function opened(bytes) {
  const [headLength, heapLength, count] = inWords(bytes, 0, 12);
  const table = inWords(bytes, 12, 12 + 8 * count);
  let place = 12 + 8 * count;
  const next = (length) => bytes.subarray(place, (place += length));
  const head = next(headLength).slice(); // Pyodide reads it from the beginning of its own buffer
  const spans = Array.from({ length: count }, (_, at) => ({ begin: table[2 * at], bytes: next(table[2 * at + 1]) }));
  return { head, heapLength, spans };
}

/** Lays the spans over a heap that was used up to `used`, and puts back what the first memory has of it. */
export function lay(spans, first, heap, used) {
  heap.set(first);
  heap.fill(0, first.length, used);
  for (const { begin, bytes } of spans) {
    const known = Math.min(Math.max(first.length - begin, 0), bytes.length);
    const [there, come] = [inWords(heap, begin, begin + known), inWords(bytes, 0, known)];
    for (let place = 0; place < come.length; place++) there[place] ^= come[place];
    heap.set(bytes.subarray(known), begin + known);
  }
}

/** Returns the bytes of a heap that say where this browser's function is. */
export function callerIn(heap, pyodide) {
  const place = pyodide.__PyRuntime + pyodide.HEAP32[pyodide.__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4];
  return heap.subarray(place, place + 4);
}
