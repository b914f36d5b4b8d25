// What every page begins with: saving. The rest, starting.js, comes beside it, and is not needed against a fire: the pages that are must be
// whole, and able to say how far the saving is, as soon as may be.

import * as offline from "./offline.js";

offline.start();
