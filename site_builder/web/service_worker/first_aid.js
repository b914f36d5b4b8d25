// The pages against a fire, which lie in this script itself: they need no host and no store.

import { inflateSync } from "fflate";
import { FIRST_AID } from "./built.js";

export const isFirstAid = ({ path }) => Object.hasOwn(FIRST_AID, path);

/** Returns the bytes of one of them, as this version was built. */
export const firstAidPage = ({ path }) => inflateSync(Uint8Array.from(atob(FIRST_AID[path]), (letter) => letter.charCodeAt(0)));
