// The pilot's own things as one file, out and in: made as text, and read from a text that somebody may have damaged. What may stand in it, and
// what each part is called, the schema says. There is nothing of the page here, so that it runs in tests as it stands.

import { definedAs, fits, faultsOf } from "./json_schema.js";
import { hasItsChecksum, isAlike, withChecksum } from "./json_text.js";
import { plain } from "./plain_text.js";
import { isGroup } from "./shapes.js";

/** Kind of thing -> its list in the file. */
export const LISTS = { pack: "packs", charger: "chargers", supply: "supplies" };
const CALLED = { pack: "Pack", charger: "Charger", supply: "Supply" }; // in the schema, and before the pilot
const KIND_OF_FILE = "own-things";
const NOTHING = "Nothing was taken from it.";
const NAMELESS = "Without a name"; // where a name has no character that is seen

export const newestVersion = (schema) => schema.properties.version.maximum;

/** Returns {text, leftOut}: the file of these things, a list of each kind, and the names of those that do not fit into it, whole or a part. */
export function fileOf(things, moment, schema) {
  const leftOut = [];
  const lists = Object.entries(LISTS).map(([kind, list]) => {
    const whole = things[kind].map((thing) => recordOf(kind, thing, schema, leftOut)).filter(Boolean);
    return `${JSON.stringify(list)}: [\n${whole.map((record) => JSON.stringify(record)).join(",\n")}\n]`;
  });
  const head = [`"kind": ${JSON.stringify(KIND_OF_FILE)}`, `"version": ${newestVersion(schema)}`, `"made": ${moment}`];
  return { text: `{\n${[...head, ...lists].join(",\n")}\n}\n`, leftOut };
}

/** Returns a thing as it stands in the file, what the schema knows of it and its checksum, or null where it does not fit. */
function recordOf(kind, thing, schema, leftOut) {
  const tooMuch = [];
  const record = withChecksum(known(thing, schema.$defs[CALLED[kind]], schema, tooMuch));
  const isWhole = fits(record, schema.$defs[CALLED[kind]], schema);
  if (!isWhole) leftOut.push(thing.name);
  else if (tooMuch.length) leftOut.push(`${thing.name} (${tooMuch.join(", ")})`);
  return isWhole ? record : null;
}

/** What the phone keeps beside it, and what is empty, stays here. What does not fit is left out, and noted in `tooMuch`. */
function known(value, its, schema, tooMuch) {
  const { properties } = its.$ref ? definedAs(its.$ref, schema) : its;
  const parts = Object.entries(properties ?? {}).flatMap(([name, part]) => {
    if (value[name] === undefined || value[name] === null) return [];
    const inner = part.$ref ? known(value[name], part, schema, tooMuch) : part.items?.$ref ? value[name].map((one) => known(one, part.items, schema, tooMuch)) : value[name];
    if (fits(inner, part, schema) || part.items?.$ref) return [[name, inner]];
    if (inner !== "") tooMuch.push(part.title ?? name);
    return [];
  });
  return Object.fromEntries(parts);
}

/** Returns {records, leftOut} of a file, records being a list of each kind and `leftOut` a sentence for each that is not whole; or {refused}, a sentence. */
export function readFile(text, schema) {
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    return { refused: `${brokenLine(text)} ${NOTHING}` };
  }
  if (!isGroup(file) || file.kind !== KIND_OF_FILE) return { refused: `This is no file of packs, chargers and supplies. ${NOTHING}` };
  if (file.version > newestVersion(schema)) return { refused: `A newer version of Fieldslate made this file. Take that version over first. ${NOTHING}` };
  const [fault] = faultsOf({ ...file, packs: [], chargers: [], supplies: [] }, schema);
  const list = Object.values(LISTS).find((name) => !Array.isArray(file[name]));
  if (fault) return { refused: `The head of the file is damaged: ${fault.title || "it"} ${fault.says}. ${NOTHING}` };
  if (list) return { refused: `The file is damaged: it has no list of ${list}. ${NOTHING}` };
  const leftOut = [];
  const records = Object.fromEntries(Object.entries(LISTS).map(([kind, name]) => [kind, wholeOf(kind, file[name], schema, leftOut)]));
  return { records, leftOut };
}

function wholeOf(kind, list, schema, leftOut) {
  const whole = new Map();
  list.forEach((record, place) => {
    const why = faultOf(kind, record, schema) ?? (whole.has(record.id) && !isAlike(whole.get(record.id), record) ? "it is in the file twice, and the two differ" : null);
    if (!why) return whole.set(record.id, record);
    const name = typeof record?.name === "string" ? `, “${record.name}”` : "";
    return leftOut.push(`${CALLED[kind]} ${place + 1} of the file${name}: ${why}.`);
  });
  return [...whole.values()].map(thingOf);
}

/** A name and an entry come as they read, and a line that stands twice comes once. */
function thingOf({ checksum: _, ...thing }) {
  const entries = Object.fromEntries(Object.entries(thing.entries).map(([name, text]) => [name, plain(text)]));
  const log = thing.log && { log: [...new Map(thing.log.map((line) => [line.id, line])).values()] };
  return { ...thing, name: plain(thing.name) || NAMELESS, entries, ...log };
}

function faultOf(kind, record, schema) {
  const [fault] = faultsOf(record, schema.$defs[CALLED[kind]], schema);
  if (fault) return `${placeOf(fault)} ${fault.says}`;
  return hasItsChecksum(record) ? twoOf(record.log ?? []) : "it is damaged, since its checksum is not that of what it says";
}

function twoOf(log) {
  const lines = new Map();
  const place = log.findIndex((line) => {
    if (lines.has(line.id)) return !isAlike(lines.get(line.id), line);
    lines.set(line.id, line);
    return false;
  });
  return place < 0 ? null : `line ${place + 1} of its log is there twice, and the two differ`;
}

/** "line 3 of its log, “Charge put in”" */
function placeOf({ path, title }) {
  const isInLog = path[0] === "log" && path.length > 1;
  const line = isInLog ? [`line ${path[1] + 1} of its log`] : [];
  const part = title && !(isInLog && path.length === 2) ? [`“${title}”`] : [];
  return [...line, ...part].join(", ") || "it";
}

/** Each record stands in a line of its own, or an editor has laid it out in several: the first that cannot be read is the place. */
function brokenLine(text) {
  const isBroken = (line) => {
    const rest = line.trim().replace(/,$/, "");
    return !/^([\]}{]*|"\w+": [[{])$/.test(rest) && !isJson(rest) && !isJson(`{${rest}}`);
  };
  const at = text.split("\n").findIndex(isBroken);
  return at < 0 ? "The file is damaged: it is not whole." : `The file is damaged in its line ${at + 1}, which cannot be read.`;
}

function isJson(text) {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
