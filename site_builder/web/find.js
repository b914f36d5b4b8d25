// The find page: what is typed is looked for at once, and kept in the address, so that going back shows it again.

import { writeQuery } from "./address.js";

const PAUSE_MS = 250; // the address is written between words, and not at each letter
const MARKED = 3; // results whose sentence shows the words that were looked for
const FIRST_WORDS = { shows: "Shows: ", asks: "Asks for: ", says: "" };
const NOTHING = "Nothing found. Try another word, or look through the list below. Pack in trouble is always at the top.";
const FAILED = "The words to look through did not load. The list below leads to everything.";

const LIMIT_MS = 15_000; // for so long the saving waits for a host that stands still too

let opening = null; // what is looked through, kept from one visit of the page to the next
let failures = 0;

/** Starts the find page that has come, and returns once it shows what its address asks for. `leaving` ends it. */
export async function start(leaving) {
  const form = document.getElementById("find");
  const input = document.getElementById("find-words");
  const list = document.getElementById("found");
  const state = document.getElementById("find-state");

  input.value = new URLSearchParams(location.search).get("words") ?? "";
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    list.querySelector("a")?.focus();
  });
  input.addEventListener("input", typed);
  let pause = null;
  const settleNow = () => pause && settle();
  for (const kind of ["pointerdown", "click"]) document.addEventListener(kind, settleNow, { capture: true, signal: leaving });
  addEventListener("pagehide", settleNow, { signal: leaving });
  leaving.addEventListener("abort", () => clearTimeout(pause));
  form.hidden = false;
  await show();

  function typed() {
    clearTimeout(pause);
    pause = setTimeout(settle, PAUSE_MS);
    show();
  }

  function settle() {
    clearTimeout(pause);
    const words = input.value.trim();
    pause = writeQuery(words ? `?${new URLSearchParams({ words })}` : "") ? null : setTimeout(settle, 4 * PAUSE_MS);
  }

  async function show() {
    const words = input.value;
    let opened;
    try {
      opened = await openOnce(form.dataset.folder);
    } catch {
      state.textContent = FAILED;
      return;
    }
    if (leaving?.aborted || words !== input.value) return;
    const found = opened(words);
    list.replaceChildren(...found.map((one, place) => line(one, place < MARKED)));
    list.hidden = !found.length;
    state.textContent = found.length ? `${found.length} found` : words.trim() ? NOTHING : "";
  }
}

/** Opens it once for all that is typed meanwhile; where that has failed, the next key tries again. */
function openOnce(folder) {
  const limit = new AbortController();
  const late = setTimeout(() => limit.abort(), LIMIT_MS);
  opening ??= Promise.race([openFrom(folder, limit.signal), tooLate(limit.signal)]).catch((fault) => {
    opening = null;
    failures += 1;
    throw fault;
  });
  return opening.finally(() => clearTimeout(late));
}

async function openFrom(folder, signal) {
  // A browser waits for a script that stands still each time it is asked for by the same address.
  const address = (name) => new URL(`${folder}${name}${failures ? `?again=${failures}` : ""}`, document.baseURI).href;
  const [{ default: MiniSearch }, { open }, kept] = await Promise.all([
    import(address("minisearch.mjs")),
    import(address("search.mjs")),
    fetch(address("sections.json"), { signal }).then((response) => response.json()),
  ]);
  return open(MiniSearch, kept);
}

const tooLate = (signal) => new Promise((_, fail) => signal.addEventListener("abort", () => fail(new Error("The words did not come."))));

function line({ address, title, heading, kind, line: words, parts }, isMarked) {
  const one = document.getElementById("found-one").content.cloneNode(true);
  one.querySelector("a").href = address;
  one.querySelector("b").textContent = heading;
  one.querySelector("span").textContent = heading === title ? "" : title;
  one.querySelector("p").append(FIRST_WORDS[kind], ...(isMarked ? parts.map(marked) : [words]));
  return one;
}

function marked({ text, isHit }) {
  if (!isHit) return text;
  const mark = document.createElement("mark");
  mark.textContent = text;
  return mark;
}
