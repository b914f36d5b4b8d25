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

/**
 * Reads the table of a folded snapshot that comes in pieces, one by one. Returns its head, the length of its heap, and its spans with
 * `next`, which copies what comes in their order.
 */
export function opened(pieces) {
  const next = readingOn(pieces);
  const [headLength, heapLength, count] = wordsOf(next(12));
  const table = wordsOf(next(8 * count));
  const spans = Array.from({ length: count }, (_, at) => ({ begin: table[2 * at], length: table[2 * at + 1] }));
  return { head: next(headLength), heapLength, spans, next };
}

/**
 * Lays the spans over a heap that was used up to `used`, and puts back what the first memory has of it. Between that and `stackTop` lies the
 * part of the stack that is not in use, 10 MB: to write there would take as much of the phone's memory, for nothing.
 */
export function lay({ spans, next }, first, heap, { stackTop, used }) {
  heap.fill(0, 0, first.length);
  heap.fill(0, stackTop, used);
  for (const { begin, length } of spans) next(length, heap.subarray(begin, begin + length));
  exchange(heap, first);
}

/** Returns a function that copies so many of the next bytes. The next piece is asked for only when the one before is behind. */
function readingOn(pieces) {
  const coming = pieces[Symbol.iterator]();
  let rest = new Uint8Array();
  return (length, into = new Uint8Array(length)) => {
    for (let place = 0; place < length; ) {
      if (rest.length === 0) rest = coming.next().value;
      const bytes = rest.subarray(0, length - place);
      into.set(bytes, place);
      place += bytes.length;
      rest = rest.subarray(bytes.length);
    }
    return into;
  };
}

const wordsOf = (bytes) => inWords(bytes, 0, bytes.length);

/** Returns the bytes of a heap that say where this browser's function is. */
export function callerIn(heap, pyodide) {
  const place = pyodide.__PyRuntime + pyodide.HEAP32[pyodide.__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4];
  return heap.subarray(place, place + 4);
}
