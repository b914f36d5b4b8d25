// The entries of a calculator: kept in the address and on the phone, asked of the engine, and answered in #answer.
// It moves strings only. What a number is, Python says.

import * as engine from "./engine.js";
import { engineMayStart } from "./offline.js";
import { keep, kept, outOfDate } from "./kept_entries.js";
import { foldRows, markRows } from "./rows.js";

const form = document.getElementById("entries");
const answer = document.getElementById("answer");
const title = document.getElementById("answer-title");
const about = document.getElementById("answer-about");
const body = document.getElementById("answer-body");
const state = document.getElementById("engine-state");
const example = { title: title.textContent, about: about.innerHTML, body: body.innerHTML };
const isForAll = "exampleForAll" in answer.dataset; // its example is an answer to any pack, and so is what it starts with
// As the page was built, not as it stands: somebody may have typed before this script came.
const startsAs = Object.fromEntries(Array.from(form.querySelectorAll("[name]"), (field) => [field.name, builtValue(field)]));

let isOwn = false; // whether anything was entered, or the example still stands
let isTyped = false; // the same, though it may be what the form starts with: a pack like the example's is still the pilot's
let engineState = "starting";

export async function start() {
  restore();
  form.addEventListener("input", () => {
    isTyped = true;
    changed();
  });
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.type !== "text") return; // a form with several fields has no submission of its own
    event.preventDefault();
    title.focus();
  });
  form.querySelector(".form-actions").hidden = false;
  document.getElementById("next-pack").addEventListener("click", () => clear(form.querySelectorAll("[data-clears] [name]")));
  document.getElementById("clear-all").addEventListener("click", () => clear(form.elements));
  document.addEventListener("fieldslate:card", cardChanged);
  document.addEventListener("click", goToEntry);
  if (isOwn) changed();
  else say("Starting. You can enter your pack now.");
  await engineMayStart;
  engine.start(document.querySelector("[data-engine]").dataset.engine, heard);
}

function restore() {
  const fromAddress = Object.fromEntries(new URLSearchParams(location.search));
  const values = Object.keys(fromAddress).some((name) => name in startsAs) ? fromAddress : kept();
  const old = outOfDate(values, form);
  const typedEarly = Object.keys(startsAs).filter((name) => form.elements[name].value !== startsAs[name]);
  for (const [name, text] of Object.entries(values)) {
    if (name in startsAs && !old.includes(name) && !typedEarly.includes(name)) form.elements[name].value = text;
  }
  isOwn = isTyped = typedEarly.length > 0 || Object.keys(values).some((name) => name in startsAs);
  askWhatApplies();
  fold();
  document.getElementById("measure-again").hidden = old.length === 0;
}

function builtValue(field) {
  if (!field.options) return field.defaultValue;
  const options = [...field.options];
  return (options.find((option) => option.defaultSelected) ?? options[0]).value;
}

// What is the same from pack to pack is folded away once it is there.
function fold() {
  for (const group of form.querySelectorAll("details[data-kept]")) {
    const asked = [...group.querySelectorAll(".entry:not([hidden]) [name]")];
    group.open = asked.some((field) => field.value === "" && !field.closest(".entry").querySelector(".optional"));
  }
  foldRows(form, startsAs);
}

function askWhatApplies() {
  for (const entry of form.querySelectorAll("[data-only-with]")) {
    const choice = form.elements[entry.dataset.onlyWith];
    // A choice stands above what belongs to it, so whether it is asked itself is settled already.
    entry.hidden = choice.closest(".entry").hidden || !entry.dataset.onlyOptions.split(" ").includes(choice.value);
  }
}

function entries() {
  return Object.fromEntries([...new FormData(form)].filter(([, text]) => text.trim() !== ""));
}

function changed() {
  askWhatApplies();
  markRows(form, startsAs);
  const now = entries();
  isOwn = Object.entries(startsAs).some(([name, text]) => (now[name] ?? "") !== text) || (isTyped && isForAll);
  const query = isOwn ? `?${new URLSearchParams(now)}` : location.pathname;
  history.replaceState(null, "", query);
  keep(isOwn ? now : {}, form);
  for (const link of document.querySelectorAll("a[data-carry]")) link.search = isOwn ? query : "";
  if (cardRuns()) return;
  if (!isOwn) return showExample();
  if (engineState === "failed") return showFault();
  if (answer.dataset.state === "example") showWaiting();
  if (engineState === "starting") say("Starting. Your entries are kept.");
  engine.ask(form.dataset.calculator, now);
}

// A card that has ended has changed the pack and the battery: what was measured before is true no longer.
function cardChanged() {
  if (!cardRuns()) for (const field of form.querySelectorAll("[data-measured]")) field.value = "";
  changed();
}

function clear(fields) {
  for (const field of fields) if (field.name) field.value = startsAs[field.name];
  isTyped = false;
  changed();
  fold();
  form.querySelector("[name]").focus();
}

// What the engine says

function heard(message) {
  if (message.kind === "ready" || message.kind === "failed") {
    engineState = message.kind;
    if (message.kind === "failed") return isOwn ? showFault() : say(COULD_NOT_START);
    if (!isOwn) say("Ready. Enter your pack.");
    return;
  }
  if (message.kind === "slow") return say("Starting takes longer this time. Your entries are kept.");
  if (!isOwn || cardRuns()) return;
  if (message.kind === "fault") return showFault(message.sentence);
  body.innerHTML = message.html;
  markProblems(message.problems);
  show(message.kind, message.kind === "answer" ? "Your answer" : "No answer yet", "Worked out on this phone from your entries.");
  say(message.summary);
}

const COULD_NOT_START =
  "The calculator could not start on this phone. The worked example and the voltages are still right: work it out by the example, or close other apps and open this page again.";

function showExample() {
  body.innerHTML = example.body;
  about.innerHTML = example.about;
  markProblems({});
  show("example", example.title);
  say(engineState === "ready" ? "Ready. Enter your pack." : "Starting.");
}

// Numbers that are not this pack's must not stand under its entries. The place keeps its height, so that nothing jumps.
function showWaiting() {
  if (isForAll) return;
  body.style.minHeight = `${body.offsetHeight}px`;
  body.textContent = "";
  show("waiting", "Your answer", "It comes as soon as the calculator is ready. Your entries are kept.");
}

function showFault(sentence) {
  body.innerHTML = example.body;
  const words = sentence
    ? `This could not be worked out (${sentence}). The fault is ours, not yours. Below stands the worked example: these are not your numbers.`
    : `${COULD_NOT_START} Below stands the worked example: these are not your numbers.`;
  show("fault", example.title, words);
  say(words);
}

function show(kind, heading, words) {
  if (kind !== "waiting") body.style.minHeight = "";
  answer.dataset.state = kind;
  title.textContent = heading;
  if (words) about.textContent = words;
  document.dispatchEvent(new CustomEvent("fieldslate:answer", { detail: { kind } }));
}

function markProblems(problems) {
  for (const field of form.elements) {
    const line = field.name && document.getElementById(`problem-${field.name}`);
    if (!line) continue;
    line.textContent = problems[field.name] ?? "";
    line.hidden = !line.textContent;
    if (line.hidden) field.removeAttribute("aria-invalid");
    else field.setAttribute("aria-invalid", "true");
  }
}

function goToEntry({ target }) {
  const field = document.getElementById(target.closest?.('a[href^="#entry-"]')?.hash.slice(1) ?? "");
  if (!field) return;
  const group = field.closest("details");
  if (group) group.open = true;
}

function say(sentence) {
  if (state.textContent !== sentence) state.textContent = sentence;
}

const cardRuns = () => document.body.dataset.cardRunning === "yes";
