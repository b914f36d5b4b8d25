// What a program is told by its machine, made the same on every machine and at every time: imported before Pyodide, whose
// heap would otherwise hold the clock, the dice, the language and the paths of the build.

import crypto from "node:crypto";
import { syncBuiltinESMExports } from "node:module";

const MOMENT = Date.UTC(2000, 0, 1);

class FixedDate extends Date {
  constructor(...given) {
    super(...(given.length ? given : [MOMENT]));
  }

  static now() {
    return MOMENT;
  }
}

globalThis.Date = FixedDate;
performance.now = () => 0;
Math.random = () => 0.5;
crypto.randomFillSync = (room) => room.fill(0);
globalThis.crypto.getRandomValues = crypto.randomFillSync;
syncBuiltinESMExports();
process.env.TZ = "UTC";
Object.defineProperty(process, "version", { value: "v0.0.0" }); // Python keeps it as the system's name
delete globalThis.navigator; // only newer ones have it
process.argv[1] = "./this.program"; // Python's own name, as a browser has it: else this script's path

// PYTHONNODEBUGRANGES leaves out the columns of each instruction: tracebacks keep file and line.
export const ENVIRONMENT = { LANG: "C.UTF-8", PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1", PYTHONDONTWRITEBYTECODE: "1" };
