// Starts what every page has, then what the one at hand has, again at each page that is gone to. All of it can be read before.

import * as offline from "./offline.js";
import * as travel from "./travel.js";
import * as watch from "./card_watch.js";
import { hasSteps } from "./page_parts.js";

offline.start();
watch.start();
travel.start(arrive);

async function arrive(leaving) {
  watch.arrive();
  const form = document.getElementById("entries") && (await import("./form.js"));
  const card = hasSteps() && (await import("./card.js")); // asked first: form.js may take the example away at once
  const find = document.getElementById("find") && (await import("./find.js"));
  if (leaving.aborted) return; // the pilot has gone on meanwhile
  if (form) form.start(leaving);
  if (card) card.start(leaving);
  if (find) await find.start(leaving);
}
