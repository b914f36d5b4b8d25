// A plan is followed: its lines stand above the form, each with what is to be done with it now.

import { at, clockOf, make, makeButton, momentOf } from "./page_parts.js";
import { builtValues } from "./entry_fields.js";
import { keptEntries } from "./kept_entries.js";
import { pickedHere } from "./own_picked.js";
import { packInRow } from "./own_rows.js";
import { beginOf, DONE, dropPlan, followed, isNext, keepPlan, ON, PLAN, putOn, WAITING } from "./plan_kept.js";
import * as watch from "./card_watch.js";
import { wakeSound } from "./card_sound.js";
import { correctedIn, openPageOf, planAgain, takeBackOutput } from "./plan_ways.js";

const A_MINUTE_MS = 60_000;
const IN_SIGHT = 5; // lines; what comes later is folded away

export { PLAN };

const place = make("section", { class: "followed", "aria-labelledby": "followed-title" });
const focusHeading = () => document.getElementById("followed-title")?.focus();
let form;
let stopped = null; // the plan that was followed last, while its page is open

export function start(leaving) {
  stopped = null;
  takeBackOutput(); // before the form takes over what is kept
  form = document.getElementById("entries");
  document.querySelector("#picked-rows, #entries").before(place);
  for (const kind of ["fieldslate:plan", "fieldslate:own"]) document.addEventListener(kind, show, { signal: leaving }); // on another day, and in another zone, its hours are said anew
  document.addEventListener("fieldslate:answer", answered, { signal: leaving });
  leaving.addEventListener("abort", () => place.remove());
  show();
}

// A plan that was just worked out

function answered({ detail: { kind } }) {
  const agenda = document.querySelector("#answer-body .agenda");
  if (!agenda) return;
  nameOwn(agenda);
  if (kind === "answer" && form.dataset.from !== "link") agenda.append(makeButton("Follow this plan", () => follow(agenda), { class: "button strong" }));
}

/** Own packs are called by their names. */
function nameOwn(agenda) {
  for (const line of agenda.querySelectorAll("li")) {
    const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) walker.currentNode.data = walker.currentNode.data.replace(/\bPack (\d+)\b/g, (words, number) => packInRow(number)?.name ?? words);
  }
}

async function follow(agenda) {
  wakeSound(); // while the browser still knows of the tap
  const { startMin, untilMin, oneAtATime } = agenda.dataset;
  const begins = startMin === undefined ? Date.now() : momentOf(startMin, Date.now());
  const momentAt = (minutes) => begins + minutes * A_MINUTE_MS;
  const last = followed();
  const stands = last?.page === document.body.dataset.page && form.elements.day_begun.value === "begun" ? last.turns : [];
  const turns = Array.from(agenda.querySelectorAll("li"), (line) => turnOf(line, momentAt));
  const names = new Set(Array.from(form.querySelectorAll("[name]"), ({ name }) => name));
  await keepPlan({
    page: document.body.dataset.page,
    made: Date.now(),
    entries: Object.fromEntries([...keptEntries()].filter(([name]) => names.has(name))),
    own: pickedHere(),
    until: untilMin === undefined ? null : momentAt(untilMin),
    asked: null,
    oneAtATime: oneAtATime !== undefined,
    turns: [...stands.filter(({ state }) => state !== WAITING), ...turns],
  });
  watch.cardsChanged();
  focusHeading();
}

function turnOf(line, momentAt) {
  const { packs, output, page, beginMin, readyMin, latestMin, waitsFor, putOnMin } = line.dataset;
  const numbers = packs.split(" ");
  const words = Array.from(line.childNodes).filter(({ nodeType }) => nodeType === Node.TEXT_NODE).map(({ data }) => data.trim()).join(" ").trim();
  return {
    packs: numbers,
    ids: numbers.map((number) => packInRow(number)?.id ?? ""),
    output,
    waitsFor: waitsFor ?? "",
    putOn: (putOnMin ?? 0) * A_MINUTE_MS,
    page,
    words,
    begin: momentAt(beginMin),
    ready: momentAt(readyMin),
    latest: momentAt(latestMin),
    state: WAITING,
    card: "",
    looked: false,
  };
}

// The plan that is followed

function show() {
  const plan = followed();
  const isHere = plan?.page === document.body.dataset.page;
  if (plan) stopped = null;
  place.hidden = !isHere && !stopped;
  if (!isHere) return place.replaceChildren(...(stopped ? stoppedWords() : []));
  const open = plan.turns.filter(({ state }) => state !== DONE);
  const done = plan.turns.length - open.length;
  const later = open.slice(IN_SIGHT);
  place.replaceChildren(
    make("h2", { id: "followed-title", tabindex: "-1" }, "The plan that you follow"),
    make("p", { class: "note" }, `Made at ${at(plan.made)}.${done ? ` ${done} of ${plan.turns.length} lines are done.` : ""}`),
    ...correctedWords({ ...plan, turns: open }),
    make("ol", {}, ...open.slice(0, IN_SIGHT).map((turn) => lineOf(plan, turn))),
    ...(later.length ? [make("details", {}, make("summary", {}, `${later.length} later lines`), make("ol", {}, ...later.map((turn) => lineOf(plan, turn))))] : []),
    make(
      "div",
      { class: "followed-acts" },
      makeButton("It went differently: plan again", planAgain, { class: "button strong" }),
      makeButton("Stop following it", async () => {
        stopped = plan;
        await dropPlan();
        watch.cardsChanged();
        place.querySelector("button")?.focus();
      }),
    ),
  );
}

/** A plan whose packs are on the charger is not gone by one tap that went astray. */
function stoppedWords() {
  const back = () => keepPlan(stopped).then(watch.cardsChanged).then(focusHeading);
  return [make("p", { id: "followed-title", tabindex: "-1" }, "You follow this plan no longer: nothing of it calls."), makeButton("Follow it again", back)];
}

/** The currents and hours of the lines stay those of before. */
function correctedWords(plan) {
  const names = plan.turns.length ? correctedIn(plan, builtValues(form)) : [];
  if (!names.length) return [];
  return [make("p", { class: "problem", role: "alert" }, `What is entered of ${names.join(", ")} was changed after this plan was made. The currents and hours of its lines are those of before: plan again.`)];
}

function lineOf(plan, turn) {
  const isOn = turn.state === ON;
  const begin = isOn ? turn.begin : beginOf(plan, turn);
  const [ready, latest] = [turn.ready, turn.latest].map((hour) => clockOf(hour + begin - turn.begin));
  const when = isOn ? ready : clockOf(begin);
  const words = isOn ? turn.words.replace(/^(.* off, then,? )?((to start )?once output \d is ready, )?/, "") : turn.words;
  const says = `${isOn ? `on since ${clockOf(begin)}, ` : ""}ready about ${ready}, at the latest ${latest}`;
  const line = make("li", { class: isOn ? "is-on" : "" }, make("b", {}, `${when}, output ${turn.output}:`), ` ${words} `, make("span", { class: "agenda-more" }, says));
  const act = (does, change) =>
    makeButton(does, async () => {
      const now = followed();
      change(now, now.turns[plan.turns.indexOf(turn)]);
      await keepPlan(now);
      watch.cardsChanged();
      focusHeading();
    });
  const acts = isOn
    ? [act("It is off", (_, one) => Object.assign(one, { state: DONE }))]
    : [makeButton("Put on", () => openPageOf(plan.turns.indexOf(turn)), { class: "button strong" }), act("It is on", (now, one) => putOn(now, one))];
  if (isOn || isNext(plan, turn)) line.append(make("div", { class: "followed-acts" }, ...acts));
  return line;
}
