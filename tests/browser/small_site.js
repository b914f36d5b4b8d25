// The script of the small site's pages: what is tried, joined with an engine that is one file.

import { engineIsUp, engineMayStart } from "../../site_builder/web/engine_gate.js";
import { mend } from "../../site_builder/web/mending.js";
import { start } from "../../site_builder/web/offline.js";

window.mend = mend;
start();
window.tellOfCard = () => document.dispatchEvent(new CustomEvent("fieldslate:card-runs", { detail: localStorage.getItem("card") !== null }));
addEventListener("storage", window.tellOfCard);
window.tellOfCard();
await engineMayStart;
const engine = await fetch("engine-1/python.wasm").catch(() => null);
if (engine?.ok) {
  document.getElementById("engine-state").textContent = `Engine: ${(await engine.arrayBuffer()).byteLength} bytes`;
  engineIsUp();
} else await mend(); // as the calculator does
