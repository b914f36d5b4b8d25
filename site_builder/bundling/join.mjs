// node join.mjs ESBUILD ENTRY JOINED FORM: writes a script and all that it imports as one, without comments and with its names.
// What comes from npm lies beside esbuild.

import { dirname, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [esbuild, entry, joined, format] = process.argv.slice(2);
const { build } = await import(pathToFileURL(resolve(esbuild, "lib", "main.js")));
await build({ entryPoints: [entry], outfile: joined, bundle: true, format, charset: "utf8", minifyWhitespace: true, logLevel: "error", nodePaths: [dirname(resolve(esbuild))] });
