// The steps of an open card: what is done is folded, the next one is large with its tick, and what comes is in sight as titles.
// A tick counts once it is on the disk; then the next step comes forward. None ticks itself.

import { makeCount } from "./card_count.js";
import { cardOf, keepCards } from "./card_kept.js";
import { makeLine, namesIn } from "./card_line.js";
import { makeTimer, turnTimers } from "./card_timer.js";
import { beat } from "./card_watch.js";
import { make, makeButton } from "./page_parts.js";
import { jumpTo } from "./scroll_kept.js";
import { SECOND_TAP_MS } from "./second_taps.js";

const LAST_DONE = 2; // in sight; the others are folded
const NEXT_ONES = 4;
const IT_STAYS_SO = "Correct it, or tap once more: what cannot be read then goes into the note of the line.";
const COMPARES = ["label", "which-pack"]; // the steps that hold the pack in hand against the card's

/** Shows the steps of a card in `place`. `body` is the card as it was started, `makeLast` makes what stands there once all is ticked. */
export function showSteps(place, id, body, makeLast) {
  const steps = [...body.querySelectorAll(".step")];
  const said = make("p", { class: "unseen", role: "status" });
  const done = make("section", { class: "card-done", "aria-label": "Done" });
  const now = make("section", { class: "card-now", "aria-labelledby": "card-now-title" });
  const coming = make("section", { class: "card-coming", "aria-label": "Coming" });
  let timers = [];
  let cameForward = -Infinity; // by the clock that nobody can set
  let isBeingKept = false;
  place.replaceChildren(said, done, now, coming);
  show();
  return { show, showTimes: () => timers.forEach((showTime) => showTime()), focus };

  function show() {
    const { ticked } = cardOf(id);
    timers = [];
    const [ready, open] = [true, false].map((isTicked) => steps.filter((step) => ticked.includes(keyOf(step)) === isTicked));
    const next = open.shift();
    const older = ready.slice(0, -LAST_DONE).map(doneLine);
    done.replaceChildren(...fold(older, `${older.length} more done`), ...list(ready.slice(-LAST_DONE).map(doneLine)));
    offerUndo(ready.at(-1));
    now.replaceChildren(...(next ? partsOf(next) : [heading("Every step is ticked"), ...makeLast()]));
    const later = open.slice(NEXT_ONES).map(comingLine);
    coming.replaceChildren(...list(open.slice(0, NEXT_ONES).map(comingLine)), ...fold(later, `${later.length} more to come`));
    timers.forEach((showTime) => showTime());
    cameForward = performance.now();
  }

  function partsOf(step) {
    const which = `Step ${steps.indexOf(step) + 1} of ${steps.length}`;
    const part = step.closest(".step-group")?.querySelector("h3, h4")?.textContent;
    const count = "asksCount" in step.dataset ? makeCount(id, step, (isRight) => tick.setAttribute("aria-disabled", String(!isRight))) : null;
    const log = makeLine(id, keyOf(step), () => namesIn(step));
    const tick = makeButton(`✓ ${step.dataset.done ?? "Done"}`, () => act(async () => (count ? count.holds() : true) && (await isReadable(log)) && turn(step, true)), {
      class: "button strong card-tick",
      "aria-describedby": "card-now-title",
    });
    count?.show();
    return [make("p", { class: "card-place" }, part ? `${which} · ${part}` : which), heading(titleOf(step)), ...wordsOf(step, log), ...(count?.parts ?? []), tick];
  }

  /** Where something cannot be read, that is looked at before the next tap counts. */
  async function isReadable(log) {
    const holds = await log.holds(IT_STAYS_SO);
    if (!holds) cameForward = performance.now();
    return holds;
  }

  function heading(words) {
    return make("h2", { id: "card-now-title", tabindex: "-1" }, words);
  }

  /** What a step says, with its timer, what it asks for the log, and its note where they can be used. */
  function wordsOf(step, log = makeLine(id, keyOf(step), () => namesIn(step))) {
    const copy = step.cloneNode(true);
    copy.querySelectorAll(".tick, .writes").forEach((one) => one.remove());
    if ("asksCount" in step.dataset) copy.querySelector(".step-figure").remove(); // it is asked, and must not be read off here
    const timer = copy.querySelector(".timer");
    if (timer) timers.push(makeTimer(timer, id, step));
    copy.append(...log.parts);
    const note = copy.querySelector("textarea");
    if (note) {
      copy.append(note.parentElement); // it has room for all that has no box
      note.disabled = false;
      note.value = cardOf(id).notes[keyOf(step)] ?? "";
      note.addEventListener("input", () => {
        cardOf(id).notes[keyOf(step)] = note.value;
        keepCards();
      });
    }
    const { name } = cardOf(id);
    return [...(name && COMPARES.includes(keyOf(step)) ? [make("p", { class: "card-name" }, name)] : []), ...copy.children];
  }

  function doneLine(step) {
    const back = () => makeButton("Take this tick back", () => act(() => turn(step, false)), { "aria-label": `Take this tick back: ${titleOf(step)}` });
    return line(step, [make("span", { "aria-hidden": "true" }, "✓")], () => [back()]);
  }

  function comingLine(step) {
    return line(step, [], () => []);
  }

  function line(step, beside, more) {
    const fold = make("details", { "data-line": keyOf(step) }, make("summary", {}, make("span", {}, titleOf(step)), ...beside));
    fold.addEventListener("toggle", () => {
      if (fold.open && fold.children.length === 1) fold.append(...wordsOf(step), ...more());
      timers.forEach((showTime) => showTime());
    });
    return make("li", {}, fold);
  }

  function offerUndo(step) {
    if (!step) return;
    const undo = makeButton("Undo", () => act(() => turn(step, false)), { class: "button card-undo", "aria-label": `Undo: ${titleOf(step)}` });
    done.lastElementChild.lastElementChild.append(undo);
  }

  async function act(change) {
    if (isBeingKept || performance.now() - cameForward < SECOND_TAP_MS) return;
    isBeingKept = true;
    now.setAttribute("aria-busy", "true");
    const isChanged = await change();
    isBeingKept = false;
    now.removeAttribute("aria-busy");
    if (!isChanged || !place.isConnected || !cardOf(id)) return;
    show();
    beat();
    focus();
    jumpTo(0);
  }

  /** Ticks a step, or takes that back, and returns once it is kept: in a browser that keeps nothing, at once. */
  async function turn(step, isTicked) {
    const card = cardOf(id);
    const key = keyOf(step);
    if (card.ticked.includes(key) === isTicked) return true;
    const { [key]: _, ...times } = card.times;
    card.ticked = isTicked ? [...card.ticked, key] : card.ticked.filter((one) => one !== key);
    card.times = isTicked ? { ...times, [key]: Date.now() } : times;
    turnTimers(card, step, steps, isTicked);
    await keepCards();
    said.textContent = `${isTicked ? "Ticked" : "Not ticked"}: ${titleOf(step)}`;
    return true;
  }

  function focus() {
    document.getElementById("card-now-title")?.focus({ preventScroll: true });
  }
}

const keyOf = (step) => step.dataset.step;
const titleOf = (step) => step.querySelector(".step-title").textContent;
const list = (lines) => (lines.length ? [make("ol", {}, ...lines)] : []);
const fold = (lines, words) => (lines.length ? [make("details", { class: "card-more" }, make("summary", {}, words), ...list(lines))] : []);
