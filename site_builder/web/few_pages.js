// What only a few pages want. starting.js has it come with the first of them: the pages against a fire are then whole sooner.

import "./starting.js"; // it runs already: what it has then stands in one script, and not in one for each set of scripts that share some of it

export * as briefing from "./briefing.js";
export * as cards from "./card_page.js";
export * as clubLines from "./club_lines.js";
export * as find from "./find.js";
export * as logOffer from "./log_offer.js";
export * as logRows from "./log_rows.js";
export * as ownPage from "./own_page.js";
export * as plan from "./plan_follow.js";
export * as several from "./several.js";
