// The records of cards that have ended, kept on this phone to be read, printed or copied.

import { typedInWords } from "./card_line.js";
import { keysOf } from "./card_time.js";
import * as kept from "./kept.js";
import { at, atOnDay, make, makeButton, write } from "./page_parts.js";
import { isGroup, isListOf, isNumber, isText } from "./shapes.js";
import { parsed } from "./trusted.js";

const AT_MOST = 50;

// id of the card, its pack's name or "", its title, when it began and ended, and the lines to read
export const RECORDS = { name: "card-records", version: 1, called: "the records of your cards", fits: (value) => isListOf(value, isRecord) };

// A card that another tab has ended is shown with its record, also where the one was heard of before the other.
kept.hearOf(RECORDS, () => document.dispatchEvent(new CustomEvent("fieldslate:cards")));

/** Returns the records, the last one first. */
export const keptRecords = () => [...(kept.read(RECORDS) ?? [])].reverse();

/** Keeps the record of a card that ends now. */
export function keepRecord(card) {
  const { id, name, title, started } = card;
  const record = { id, name, title, started, ended: Date.now(), lines: linesOf(card) };
  return kept.keep(RECORDS, [...(kept.read(RECORDS) ?? []).filter((one) => one.id !== id), record].slice(-AT_MOST));
}

/** Drops the record of a card that goes on. */
export const dropRecord = ({ id }) => kept.keep(RECORDS, (kept.read(RECORDS) ?? []).filter((one) => one.id !== id));

function linesOf(card) {
  const { body } = parsed(card.html);
  const steps = [...body.querySelectorAll(".step")];
  const titleOf = (step) => step.querySelector(".step-title").textContent;
  const titles = new Map(steps.map((step) => [step.dataset.step, titleOf(step)]));
  const figures = Array.from(body.querySelectorAll(".step:not([data-asks-count]) .step-figure .figure"), (figure) => `${titleOf(figure.closest(".step"))}: ${figure.textContent}`);
  const packs = Array.from(body.querySelectorAll(".card-packs:not([hidden]) p"), ({ textContent }) => textContent);
  const written = Object.entries({ ...card.counts, ...card.notes }).filter(([, text]) => text.trim() !== "");
  const times = keysOf(card).filter((key) => key in card.times).map((key) => `${titles.get(key)} ${at(card.times[key])}`);
  const open = keysOf(card).filter((key) => !card.ticked.includes(key)).map((key) => titles.get(key));
  return [
    ...[card.name, card.output && `Output ${card.output}`].filter(Boolean),
    ...packs,
    ...figures,
    ...written.map(([key, text]) => `${titles.get(key)}: ${text}`),
    ...typedInWords(card),
    ...(times.length ? [`Ticked: ${times.join("; ")}`] : []),
    open.length ? `Not ticked: ${open.join("; ")}` : "Every step was ticked.",
  ];
}

/** Shows a record, folded unless it `isOpen`. */
export function shownRecord({ id, name, title, started, ended, lines }, isOpen) {
  const heading = `${name ? `${name}: ` : ""}${title}, ${atOnDay(started)}`;
  const all = [`Started: ${atOnDay(started)}`, `Ended: ${atOnDay(ended)}`, ...lines];
  const record = make(
    "details",
    { class: "card-record", "data-record": id },
    make("summary", {}, heading),
    make("ul", {}, ...all.map((line) => make("li", {}, line))),
    makeButton("Print it", () => print()),
    ...makeCopy([heading, ...all].join("\n")),
  );
  record.open = isOpen;
  return record;
}

function makeCopy(text) {
  const said = make("p", { role: "status" });
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      write(said, "It is copied.");
    } catch {
      write(said, "This browser does not let a page copy: mark the lines and copy them.");
    }
  };
  return [makeButton("Copy it", copy), said];
}

function isRecord(value) {
  return isGroup(value) && [value.id, value.name, value.title].every(isText) && [value.started, value.ended].every(isNumber) && isListOf(value.lines, isText);
}
