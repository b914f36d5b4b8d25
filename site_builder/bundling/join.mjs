// node join.mjs ESBUILD ENTRIES FOLDER FORM NAMES FACTS: writes each script or style sheet, and all that it imports, as one, small. ENTRIES is a
// list in JSON. What scripts share, or import only when it is wanted, comes as files of their own. The typeface that a style sheet names lies beside it.
// What comes from npm lies beside esbuild.

import { dirname, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [esbuild, entries, folder, format, names, facts] = process.argv.slice(2);
const smaller = names === "short" ? { minify: true } : { minifyWhitespace: true };
const { build } = await import(pathToFileURL(resolve(esbuild, "lib", "main.js")));
await build({ entryPoints: JSON.parse(entries), outdir: folder, bundle: true, splitting: format === "esm", chunkNames: "[name]-[hash]", format, charset: "utf8", ...smaller, define: JSON.parse(facts), logLevel: "error", nodePaths: [dirname(resolve(esbuild))], external: ["*.woff2"] });
