// node join.mjs ESBUILD ENTRY JOINED FORM NAMES FACTS: writes a script or a style sheet, and all that it imports, as one, small. The typeface that
// a style sheet names lies beside it.
// What comes from npm lies beside esbuild.

import { dirname, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [esbuild, entry, joined, format, names, facts] = process.argv.slice(2);
const smaller = names === "short" ? { minify: true } : { minifyWhitespace: true };
const { build } = await import(pathToFileURL(resolve(esbuild, "lib", "main.js")));
await build({ entryPoints: [entry], outfile: joined, bundle: true, format, charset: "utf8", ...smaller, define: JSON.parse(facts), logLevel: "error", nodePaths: [dirname(resolve(esbuild))], external: ["*.woff2"] });
