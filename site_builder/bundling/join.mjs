// node join.mjs ESBUILD ENTRY FOLDER FORM NAMES FACTS: writes a script or a style sheet, and all that it imports, as one, small. What a script
// imports only when it is wanted comes as files of their own. The typeface that a style sheet names lies beside it.
// What comes from npm lies beside esbuild.

import { dirname, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [esbuild, entry, folder, format, names, facts] = process.argv.slice(2);
const smaller = names === "short" ? { minify: true } : { minifyWhitespace: true };
const { build } = await import(pathToFileURL(resolve(esbuild, "lib", "main.js")));
await build({ entryPoints: [entry], outdir: folder, bundle: true, splitting: format === "esm", chunkNames: "[name]-[hash]", format, charset: "utf8", ...smaller, define: JSON.parse(facts), logLevel: "error", nodePaths: [dirname(resolve(esbuild))], external: ["*.woff2"] });
