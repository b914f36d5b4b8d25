// What Pyodide is told by its machine, made the same on every machine and at every time: imported before it, because its
// memory keeps what it was told. The dice need nothing here: tidy.py sets those of Python.

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
process.env.TZ = "UTC";
process.argv[1] = "./this.program"; // Python's own name, as a browser has it: else this script's path
Object.defineProperty(process, "version", { value: "v0.0.0" }); // Python keeps it as the system's name
delete globalThis.navigator; // only newer ones have it

// The second leaves out the columns of each instruction: a traceback keeps file and line.
export const ENVIRONMENT = { PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1" };
