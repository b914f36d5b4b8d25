// The log of a pack on the page of my packs: its lines, the last one first, and the form in which one is entered, corrected or taken back.

import { builtValues, entriesOf, fillIn } from "./entry_fields.js";
import { dayOf, keepLine, lineOf, linesOf, takeBack } from "./log_kept.js";
import { countOf, headOf, restOf } from "./log_words.js";
import { newId } from "./own_kept.js";
import { lineOf as wordsOf } from "./own_words.js";
import { make, makeButton } from "./page_parts.js";
import { isADay } from "./shapes.js";
import { offerUnits } from "./units.js";

let undo = null; // {pack, line}: what was taken back last

const addressOf = (pack, line = "") => `my-packs.html?log=${pack.id}${line && `&line=${line}`}`;

/** Shows the log of a pack in a place, or one of its lines where the address names it. `say` says what was done. */
export function showLog({ place, pack, line, say }) {
  const known = line && lineOf(pack.id, line);
  if (known) return showForm(place, pack, known, say);
  if (line) return showForm(place, pack, { id: newId(), entries: { day: dayOf(Date.now()), kind: line === "new" ? "charge" : line }, note: "", isNew: true }, say);
  const lines = linesOf(pack.id).reverse();
  place.replaceChildren(
    make("h2", { tabindex: "-1" }, `Log of ${pack.name}`),
    make("p", { class: "own-line" }, `${wordsOf("pack", pack)} · ${countOf(lines)}`),
    ...(undo?.pack === pack.id ? [undoLine(pack)] : []),
    make("p", { class: "own-actions" }, make("a", { class: "button strong", href: addressOf(pack, "new") }, "+ New line"), " ", make("a", { class: "button", href: `ageing.html?pick=${pack.id}` }, "How it ages")),
    make("ul", { class: "own-log" }, ...lines.map((one) => make("li", {}, make("a", { href: addressOf(pack, one.id), "data-line": one.id }, make("b", {}, headOf(one)), " ", make("span", {}, restOf(one)))))),
    make("p", {}, make("a", { class: "go-back", href: `my-packs.html?id=${pack.id}` }, `Back to ${pack.name}`)),
  );
}

function undoLine(pack) {
  const { line } = undo;
  const button = makeButton("Put back", async () => {
    undo = null;
    await keepLine(pack.id, line);
  });
  return make("p", { class: "own-undo", role: "status" }, `Taken out: ${headOf(line)}. `, button);
}

function showForm(place, pack, line, say) {
  place.replaceChildren(make("h2", {}, `Log of ${pack.name}`), document.getElementById("log-form").content.cloneNode(true));
  const form = place.querySelector("form");
  const { day } = form.elements;
  day.type = "date"; // the browser's own calendar, and one way of writing it
  day.removeAttribute("aria-describedby");
  day.closest(".entry").querySelector(".hint").remove();
  const startsAs = builtValues(form);
  fillIn(form, Object.entries({ ...startsAs, ...line.entries }), []);
  form.elements.own_note.value = line.note;
  for (const group of form.querySelectorAll("details.group")) group.open = true;
  offerUnits(form);
  const leave = (words) => {
    history.replaceState(history.state, "", addressOf(pack));
    showLog({ place, pack, line: "", say });
    say(words);
  };
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const problem = form.querySelector("#own-problem");
    problem.hidden = isADay(day.value); // a calendar takes years of five digits, which no log can be read with
    if (!problem.hidden) {
      problem.textContent = "Still needed: the day.";
      return void day.focus();
    }
    const { own_note: note, ...entries } = { own_note: "", ...entriesOf(form) };
    const isKept = await keepLine(pack.id, { id: line.id, entries, note });
    leave(isKept ? "The line is kept on this phone." : "The line is there until this page is closed: this phone keeps nothing now.");
    place.querySelector(`[data-line="${line.id}"]`)?.focus();
  });
  form.querySelector(".go-back").href = addressOf(pack);
  const out = form.querySelector("#take-out");
  out.hidden = Boolean(line.isNew);
  out.addEventListener("click", async () => {
    undo = { pack: pack.id, line };
    await takeBack(pack.id, line.id);
    leave("");
    place.querySelector(".own-undo button")?.focus();
  });
}
