// The page on which the pilot's own things leave the phone and come back: as one file, and one of them as a code. What its address brings comes
// first: `?code=ID` shows the code of a pack, a query with `#setting=PAGE` that of a calculator's entries, a link's pack is offered, and `?read=` reads a code.

import "./starting.js"; // as in few_pages.js
import * as kept from "./kept.js";
import { readerOf } from "./code_read.js";
import { showPack, showPackCode, showSettingCode } from "./code_page.js";
import { dayOf } from "./log_kept.js";
import { tableOf } from "./log_table.js";
import { fileOf } from "./own_file.js";
import { everything, IMPORTED, takeBack } from "./own_import.js";
import { showPreview } from "./own_preview.js";
import { FACTS } from "./own_words.js";
import { atOnDay, make, makeButton, write } from "./page_parts.js";

/* global FILE_SCHEMA -- what may stand in a file, as the build publishes it, in JSON */
const SCHEMA = JSON.parse(FILE_SCHEMA);

const LARGEST_FILE = 20_000_000; // bytes: years of a large club

let said, place, ending;

export async function start(leaving) {
  ending = leaving;
  said = document.getElementById("file-said");
  place = document.getElementById("file-place");
  await kept.lookUp(IMPORTED);
  const way = { place, schema: SCHEMA, say: (words) => write(said, words), leaving };
  const isShown = () => showPackCode(way) || showSettingCode(way) || showPack(way) || showReader();
  const isAtHand = () => place.querySelector("form, video:not([hidden]), .is-taken");
  const again = () => isAtHand() || isShown() || show();
  document.addEventListener("fieldslate:own", again, { signal: leaving });
  document.addEventListener("fieldslate:log", again, { signal: leaving });
  if (!leaving.aborted && !isShown()) await show();
}

async function show() {
  const all = await everything();
  const lines = all.pack.flatMap(({ log }) => log).length;
  const isEmpty = Object.values(all).every((list) => list.length === 0);
  place.replaceChildren(
    make("h2", {}, "Save as a file"),
    make("p", {}, isEmpty ? "Nothing of yours is kept on this phone yet." : `On this phone: ${countsOf(all)}, ${countOf(lines, "line", "lines")} in the logs.`),
    ...(isEmpty ? [] : [make("p", { class: "own-actions" }, makeButton("Save all as one file", () => saveAll(all), { class: "button strong" }), " ", makeButton("Save the logs as a table", () => saveTable(all)))]),
    make("h2", {}, "Take a file in"),
    make("p", {}, make("label", { for: "own-file" }, "A file that was saved here, on this phone or another")),
    fileField(),
    ...reader(),
    ...lastImport(),
  );
}

const countOf = (count, one, several) => `${count} ${count === 1 ? one : several}`;

const reader = () => [make("h2", { tabindex: "-1" }, "Read a code"), ...readerOf((words) => write(said, words), ending)];

/** The way from my packs leads to the reader alone. */
function showReader() {
  if (!new URLSearchParams(location.search).has("read")) return false;
  place.replaceChildren(...reader(), make("p", {}, make("a", { class: "go-back", href: "my-packs.html" }, "My packs")));
  return true;
}

const countsOf = (all) =>
  Object.entries(FACTS.called).filter(([kind]) => all[kind].length).map(([kind, called]) => countOf(all[kind].length, kind, called)).join(", ");

function saveAll(all) {
  const { text, leftOut } = fileOf(all, Date.now(), SCHEMA);
  save("json", "application/json", text);
  write(said, `All of it is in one file now.${leftOut.length ? ` Left out, as a file cannot hold it: ${leftOut.join(", ")}.` : ""}`);
}

function saveTable({ pack }) {
  save("csv", "text/csv;charset=utf-8", tableOf(pack, FACTS.log));
  write(said, "The logs are in a table now: a line for each line of a log.");
}

function save(format, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  make("a", { href: address, download: `fieldslate-${dayOf(Date.now())}.${format}` }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

function fileField() {
  const field = make("input", { id: "own-file", type: "file", accept: ".json,application/json" });
  field.addEventListener("change", async () => {
    const [file] = field.files;
    if (!file) return;
    if (file.size > LARGEST_FILE) return void write(said, "This file is too large to be one that was saved here. Nothing was taken from it.");
    const text = await file.text().catch(() => "");
    field.value = ""; // the same file can be chosen again
    await showPreview({ place, text, schema: SCHEMA, done: leave, say: (words) => write(said, words) });
  });
  return field;
}

async function leave(words) {
  await show();
  write(said, words);
  said.tabIndex = -1; // what was at hand is gone
  said.focus();
  scrollTo(0, 0);
}

/** What the last file changed can be taken back, also tomorrow: folded away from what is used each time. */
function lastImport() {
  const { moment, changes } = kept.read(IMPORTED) ?? { changes: [] };
  if (!changes.length) return [];
  const button = makeButton("Take it back", async () => {
    const left = await takeBack();
    if (left === null) return leave("Nothing was taken back: this phone cannot keep the change. Make room first.");
    return leave(`The file is taken back.${left.length ? ` Changed since, and left as they are: ${left.join(", ")}.` : ""}`);
  }, { id: "take-back" });
  const names = changes.map(({ after, before }) => make("li", {}, `${after.name}: ${before ? "changed" : "new"}`));
  return [make("details", { class: "last-file" }, make("summary", {}, `The last file, taken in at ${atOnDay(moment)}`), make("ul", {}, ...names), make("p", {}, button))];
}
