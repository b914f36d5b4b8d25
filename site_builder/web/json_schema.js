// Checks a value against a JSON Schema: as much of the standard (draft 2020-12) as the schema of the file uses. A keyword that is not here
// is an error, and never a check that is left out.

import { isADay, isGroup, isNumber, isText } from "./shapes.js";

const LARGEST = 2 ** 53 - 1; // above it two whole numbers are one
const TYPES = {
  string: isText,
  integer: (value) => isNumber(value) && Math.abs(value) <= LARGEST && value % 1 === 0,
  array: Array.isArray,
  object: isGroup,
};
const IS_TYPE_OF = { string: "text", integer: "a whole number", array: "a list", object: "a record" };
const FORMATS = { date: isADay };
const SAYS_NOTHING = ["$defs", "title", "description"];

// Each returns a sentence's end for what is wrong, or null. What is no group or list is checked by `type` alone.
const CHECKS = {
  type: (value, type) => (TYPES[type](value) ? null : `is not ${IS_TYPE_OF[type]}`),
  const: (value, only) => (value === only ? null : `is not “${only}”`),
  enum: (value, all) => (all.includes(value) ? null : "is none of the choices"),
  pattern: (value, pattern) => (!isText(value) || new RegExp(pattern, "u").test(value) ? null : "is not written as it should be"),
  format: (value, format) => (!isText(value) || FORMATS[format](value) ? null : "is no day of the calendar"),
  minLength: (value, least) => (!isText(value) || [...value].length >= least ? null : "is empty"),
  maxLength: (value, most) => (!isText(value) || [...value].length <= most ? null : "is too long"),
  minimum: (value, least) => (value >= least ? null : "is too small"),
  maximum: (value, most) => (value <= most ? null : "is too large"),
  minItems: (value, least) => (value.length >= least ? null : "has too little in it"),
  maxItems: (value, most) => (value.length <= most ? null : "has too much in it"),
  required: (value, names) => says(names.filter((name) => !Object.hasOwn(value, name)).map((name) => `has no “${name}”`)),
};
const PARTS = ["properties", "additionalProperties", "propertyNames", "items", "prefixItems"];

const says = ([first]) => first ?? null;

/** Returns the part of a schema that a reference leads to. */
export const definedAs = (ref, root) => root.$defs[ref.replace("#/$defs/", "")];

/** Returns the faults of a value, each as {path, title, says}: the names and places that lead to it, what it is called, and what is wrong. */
export function faultsOf(value, schema, root = schema, path = [], title = "") {
  if (schema.$ref) {
    const { $ref, ...more } = schema;
    return faultsOf(value, { ...definedAs($ref, root), ...more }, root, path, title);
  }
  const unknown = Object.keys(schema).find((keyword) => !(keyword in CHECKS) && !PARTS.includes(keyword) && !SAYS_NOTHING.includes(keyword));
  if (unknown) throw new Error(`The keyword ${unknown} of a schema is not known here.`);
  if (schema.type && CHECKS.type(value, schema.type)) return [{ path, title, says: CHECKS.type(value, schema.type) }];
  const own = Object.keys(CHECKS).filter((keyword) => keyword in schema).map((keyword) => CHECKS[keyword](value, schema[keyword])).filter(Boolean);
  return [...own.map((fault) => ({ path, title, says: fault })), ...faultsWithin(value, schema, root, path, title)];
}

function faultsWithin(value, schema, root, path, title) {
  const { properties = {}, additionalProperties, propertyNames, items, prefixItems = [] } = schema;
  const within = (part, its, name, called) => faultsOf(part, its, root, [...path, name], its.title ?? called);
  if (Array.isArray(value)) {
    return value.flatMap((part, place) => {
      const its = prefixItems[place] ?? items;
      return its ? within(part, its, place, title) : [];
    });
  }
  if (!isGroup(value)) return [];
  return Object.entries(value).flatMap(([name, part]) => {
    if (Object.hasOwn(properties, name)) return within(part, properties[name], name, name);
    if (additionalProperties === false || (propertyNames && faultsOf(name, propertyNames, root).length)) return [{ path: [...path, name], title: name, says: "is not known here" }];
    return isGroup(additionalProperties) ? within(part, additionalProperties, name, name) : [];
  });
}

/** Says whether a value is what a schema has. */
export const fits = (value, schema, root) => faultsOf(value, schema, root).length === 0;
