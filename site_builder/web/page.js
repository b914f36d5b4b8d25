// Starts what a page has. Everything on it can be read before this runs.

import * as offline from "./offline.js";

// Asked first: form.js may take the example away at once.
const hasSteps = document.querySelector("#answer-body .steps") !== null;

offline.start();

if (document.getElementById("entries")) {
  const form = await import("./form.js");
  form.start();
}
if (hasSteps) {
  const card = await import("./card.js");
  card.start();
}
