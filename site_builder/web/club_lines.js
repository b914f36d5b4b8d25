// What only the club knows, in three lines: its emergency number, where it is, and a rule of its own. Filled in beside the poster, kept
// on this phone, and shown wherever a page has a line for it.

import * as kept from "./kept.js";
import { write } from "./page_parts.js";
import { isGroupOf, isText } from "./shapes.js";

const LINES = { name: "club-lines", version: 1, called: "your club's number, address and rule", fits: (value) => isGroupOf(value, isText) };

kept.hearOf(LINES, show);

export async function start(leaving) {
  await kept.lookUp(LINES);
  if (leaving.aborted) return;
  show();
  const form = document.getElementById("club-form");
  if (!form) return;
  const fields = [...form.querySelectorAll("input")];
  for (const field of fields) field.value = kept.read(LINES)?.[field.name] ?? "";
  form.addEventListener("input", keep, { signal: leaving });
  form.hidden = false;

  async function keep() {
    const isKept = await kept.keep(LINES, Object.fromEntries(fields.map(({ name, value }) => [name, value.trim()])));
    show();
    write(form.querySelector("[role=status]"), isKept ? "Kept on this phone." : "");
  }
}

function show() {
  for (const place of document.querySelectorAll("[data-club]")) write(place, kept.read(LINES)?.[place.dataset.club] ?? "");
}
