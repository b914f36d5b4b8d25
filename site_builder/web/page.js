// What every page begins with: saving, and going from page to page. The rest comes right after it, and is not needed against a fire: the
// pages that are must be whole, and able to say how far the saving is, as soon as may be.

import * as offline from "./offline.js";
import * as travel from "./travel.js";

offline.start();
travel.start(async (leaving) => (await import("./starting.js")).arrive(leaving));
