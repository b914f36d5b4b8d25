// Starts what every page has, then what the one at hand has, again at each page that is gone to. All of it can be read before.

import * as card from "./card.js";
import * as watch from "./card_watch.js";
import * as find from "./find.js";
import * as form from "./form.js";
import * as offline from "./offline.js";
import { hasSteps } from "./page_parts.js";
import * as travel from "./travel.js";

offline.start();
watch.start();
travel.start(arrive);

async function arrive(leaving) {
  watch.arrive();
  const isCard = hasSteps(); // asked first: form.js may take the example away at once
  if (document.getElementById("entries")) form.start(leaving);
  if (isCard) card.start(leaving);
  if (document.getElementById("find")) await find.start(leaving);
}
