// The place of the answer: the worked example, an answer, or why there is none. Numbers that are not this pack's never stand
// under its entries.

import { labelsOf, withFigures, withLinksTo } from "./card_figures.js";
import { COULD_NOT_START } from "./engine_words.js";
import { at, write } from "./page_parts.js";
import { isRightBefore, putOver } from "./put_over.js";
import { trustedHtml } from "./trusted.js";
import { goBackToUnit, offerUnits } from "./units.js";

let answer, title, about, body, state, example, onward;
let keptHtml; // of an answer that is shown again
let folds; // that the pilot touched in the answer, by the names of their lines: whether each is open

/** Takes the place of the page that is open, with the example in it. */
export function take() {
  [answer, title, about, body, state] = ["answer", "answer-title", "answer-about", "answer-body", "engine-state"].map((id) =>
    document.getElementById(id),
  );
  onward = answer.querySelector(":scope > .onward");
  folds = new Map();
  body.addEventListener("click", noteFold);
  const entries = new URL(document.getElementById("try-example").href).searchParams;
  example = { title: title.textContent, about: about.innerHTML, body: body.innerHTML, entries };
}

export const shows = () => answer.dataset.state;
/** Its example is an answer to any pack, and so is what its form starts with. */
export const isForAll = () => "exampleForAll" in answer.dataset;
export const focus = () => title.focus();
export const say = (sentence) => write(state, sentence);

/** The entries of the worked example: what the page adds, over what its form starts with. */
export function exampleEntries(startsAs) {
  const started = Object.entries(startsAs).filter(([, text]) => text !== "");
  return Object.fromEntries([...started, ...example.entries]);
}

/** On a job card the answer's figures stand in its steps, as soon as a card may be started by them. */
function laidOut(html, may_start = true) {
  if (!("card" in answer.dataset)) return html;
  return may_start ? withFigures(example.body, html, labelsOf(document.getElementById("entries"))) : withLinksTo(document.querySelector("a[data-carry]").pathname, html);
}

/** Changes the answer and holds the field below it where it is. A browser does not where a fold comes or goes, and WebKit never does. */
function inPlace(change) {
  const held = typedIn();
  const before = held?.getBoundingClientRect().top;
  change();
  const moved = held ? held.getBoundingClientRect().top - before : 0;
  if (moved) scrollBy({ top: moved, behavior: "instant" });
}

/** The field below the answer in which somebody types, if it is in sight; null else. */
function typedIn() {
  const field = document.activeElement;
  if (!(answer.compareDocumentPosition(field) & Node.DOCUMENT_POSITION_FOLLOWING && field.closest("main"))) return null;
  const { top } = field.getBoundingClientRect();
  return top >= 0 && top < innerHeight ? field : null;
}

/** Shows the example as it was built, or in the units that were chosen. */
export function showExample(html) {
  inPlace(() => {
    body.innerHTML = trustedHtml(html ? laidOut(html) : example.body);
    about.innerHTML = trustedHtml(example.about);
    show("example", example.title);
  });
}

const HEADINGS = { answer: "Your answer", partial: "Your answer so far", refusal: "No answer yet" };

export function showAnswer({ kind, html, summary, may_start }) {
  inPlace(() => {
    const stands = shows();
    if (stands === kind) putOver(body, asToBe(laidOut(html, may_start)));
    else if (stands !== "kept" || html !== keptHtml) put(laidOut(html, may_start)); // else it stands there, and what was unfolded stays so
    answer.toggleAttribute("data-may-start", may_start);
    show(kind, HEADINGS[kind], "Worked out on this phone from your entries.");
    say(summary);
  });
}

const nameOf = (fold) => fold.dataset.part ?? fold.firstElementChild.textContent;

/** What is unfolded stays so in the next answer, and what is folded too: whoever changes an entry wants to see what becomes of that line. */
function noteFold({ target }) {
  const fold = target.closest("summary")?.parentElement;
  if (fold) folds.set(nameOf(fold), !fold.open); // it is turned over after this
}

/** Returns the place as it is to be, not yet on the page. It has the place's own name, so that its units count as those of an answer. */
function asToBe(html) {
  const next = body.cloneNode();
  next.innerHTML = trustedHtml(html);
  if (folds.size) for (const fold of next.querySelectorAll("details")) fold.open = folds.get(nameOf(fold)) ?? fold.open;
  offerUnits(next);
  return next;
}

const put = (html) => body.replaceChildren(...asToBe(html).childNodes);

/** Shows what was answered to the same entries before, with its time, and `words` in place of its summary if there are any. */
export function showKept({ html, summary, moment }, words = `At ${at(moment)}: ${summary}`) {
  inPlace(() => {
    if (shows() !== "kept" || html !== keptHtml) body.innerHTML = trustedHtml(laidOut((keptHtml = html)));
    show("kept", "Your last answer", `Worked out on this phone at ${at(moment)} from these entries.`);
    say(words);
  });
}

/** The place keeps its height, so that nothing jumps. */
export function showWaiting() {
  if (isForAll()) return shows() === "kept" ? showExample() : undefined;
  body.style.minHeight = `${body.offsetHeight}px`;
  body.textContent = "";
  show("waiting", "Your answer", "It comes as soon as the calculator is ready. Your entries are kept.");
}

/** Takes an answer away that is true no longer. */
export const takeAway = () => (isForAll() ? showExample() : showWaiting());

export function showFault(sentence) {
  body.innerHTML = trustedHtml(example.body);
  const words = sentence
    ? `This could not be worked out (${sentence}). The fault is ours, not yours. Below is the worked example: these are not your numbers.`
    : `${COULD_NOT_START} Below is the worked example: these are not your numbers.`;
  show("fault", example.title, words);
  say(words);
}

function show(kind, heading, words) {
  if (kind !== "waiting") body.style.minHeight = "";
  answer.dataset.state = kind;
  const rest = body.querySelector(".not-counted, .answer-rest");
  if (onward && rest && !isRightBefore(onward, rest)) rest.before(onward); // where the settings stand
  else if (onward && !rest) body.after(onward);
  write(title, heading);
  if (words) write(about, words);
  offerUnits(body);
  goBackToUnit(body);
  document.dispatchEvent(new CustomEvent("fieldslate:answer", { detail: { kind } }));
}
