// Starts what every page has, then what the one at hand has, again at each page that is gone to. All of it can be read before.

import { CARDS, ONE_CARD, takeOverOneCard } from "./card_kept.js";
import * as offer from "./card_offer.js";
import * as cards from "./card_page.js";
import { RECORDS } from "./card_records.js";
import * as watch from "./card_watch.js";
import * as clocks from "./clocks.js";
import { CLOCK } from "./clocks.js";
import * as find from "./find.js";
import * as form from "./form.js";
import * as offline from "./offline.js";
import { lookUp } from "./kept.js";
import { ENTRIES, OVER } from "./kept_entries.js";
import { startHome } from "./home.js";
import { LISTS, PICKED } from "./own_kept.js";
import * as ownPage from "./own_page.js";
import * as ownRows from "./own_rows.js";
import * as ownSection from "./own_section.js";
import { hasSteps } from "./page_parts.js";
import * as travel from "./travel.js";
import { UNITS } from "./units.js";

const opened = lookUp(CLOCK, CARDS, ONE_CARD, ENTRIES, OVER, UNITS, PICKED, ...Object.values(LISTS)).then(() => {
  takeOverOneCard();
  watch.start();
  clocks.start();
});
offline.start();
travel.start(arrive);
document.getElementById("not-started").remove();

async function arrive(leaving) {
  const isCard = hasSteps();
  const hasCards = document.getElementById("running-cards") !== null;
  const hasEntries = document.getElementById("entries") !== null;
  const kinds = [...(hasEntries ? [form.wake(leaving)] : []), ...(hasCards ? [RECORDS] : [])];
  await Promise.all([opened, lookUp(...kinds)]);
  if (leaving.aborted) return;
  watch.arrive();
  if (hasEntries) {
    await ownSection.takeFromAddress();
    if (leaving.aborted) return;
    form.start(leaving);
    ownSection.start(leaving);
    ownRows.start(leaving);
  }
  if (document.getElementById("own")) ownPage.start(leaving);
  if (document.getElementById("home")) startHome(leaving);
  if (isCard) offer.start(leaving);
  if (hasCards) cards.start(leaving);
  if (document.getElementById("find")) await find.start(leaving);
}
