// Starts what a page has. Everything on it can be read before this runs.

import * as offline from "./offline.js";

offline.start();

if (document.getElementById("entries")) {
  const form = await import("./form.js");
  form.start();
}
if (document.querySelector("#answer-body .steps")) {
  const card = await import("./card.js");
  card.start();
}
