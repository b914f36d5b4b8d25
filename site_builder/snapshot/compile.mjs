// node compile.mjs PYODIDE LIBRARY SOURCES COMPILED: boots Pyodide with a library archive, and compiles the modules of another.

import { ENVIRONMENT } from "./same_every_time.mjs";
import { readFileSync, writeFileSync } from "node:fs";

const [pyodide, library, sources, compiled] = process.argv.slice(2);
const { loadPyodide } = await import(`${pyodide}/pyodide.mjs`);
const python = await loadPyodide({ stdLibURL: library, env: ENVIRONMENT });
python.FS.writeFile("/sources.zip", readFileSync(sources));
python.runPython(readFileSync(new URL("./compile.py", import.meta.url), "utf8"));
writeFileSync(compiled, python.FS.readFile("/compiled.zip"));
