// On the pages of the cell check and of storage: what stands there of a pack that is picked becomes a line of its log, by a tap.

import { dayOf, keepLine, openLog } from "./log_kept.js";
import { newId, note, noteState } from "./own_kept.js";
import { pickedThing } from "./own_picked.js";
import { make, makeButton } from "./page_parts.js";
import { oneAtATime } from "./second_taps.js";
import { entryText } from "./units.js";

// What a line calls what the page asks.
const ENTRIES = { from_v: "resting_v", line_degc: "pack_degc", cell_resistance_mohm: "cell_resistance_mohm", each_mohm: "cell_resistances_mohm" };
const WORDS = { check: "Keep this check in the log of", storage: "It is at storage: keep that in the log of" };

let form, kind, line;

export function start(leaving) {
  form = document.getElementById("entries");
  kind = form.dataset.logs;
  line = make("p", { class: "own-others", id: "keep-in-log" });
  const show = () => {
    const pack = pickedThing("pack");
    const isOffered = pack && document.getElementById("answer").dataset.state === "answer" && form.dataset.from !== "link";
    if (!isOffered) return line.remove();
    line.replaceChildren(makeButton(`${WORDS[kind]} ${pack.name}`, oneAtATime(() => keepIt(pack))));
    form.querySelector(".later").prepend(line);
  };
  document.addEventListener("fieldslate:answer", show, { signal: leaving });
  show();
}

async function keepIt(pack) {
  const textOf = (name) => form.elements.namedItem(name) && entryText(form.elements[name]);
  const read = Object.entries(ENTRIES).map(([name, asked]) => [name, textOf(asked)]).filter(([, text]) => text);
  const id = newId();
  await openLog(pack.id);
  const isKept = await keepLine(pack.id, { id, entries: { day: dayOf(Date.now()), kind, ...Object.fromEntries(read) }, note: "" });
  await (kind === "storage" ? noteState(pack.id, "stored") : note("pack", pack.id, { checked: Date.now() }));
  const words = isKept ? `It is in the log of ${pack.name}. ` : "It is there until this page is closed: this phone keeps nothing now. ";
  line.replaceChildren(make("span", { role: "status" }, words), make("a", { href: `my-packs.html?log=${pack.id}&line=${id}` }, "Add to the line"));
}
