// What eslint looks for in every script of the pages, of the build and of the tests. It runs as a test, from the top of the checkout:
// node .npm/node_modules/eslint/bin/eslint.js --config .npm/eslint.config.mjs site_builder tests

import js from "@eslint/js";
import globals from "globals";

const WORKER = ["site_builder/web/worker.js", "site_builder/web/worker_savings.js", "site_builder/web/*.mjs"];
const SERVICE_WORKER = ["site_builder/web/service_worker/*.js"];

export default [
  js.configs.recommended,
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  {
    rules: {
      // What misleads: a name that hides another, a value that is compared after it was turned into something else.
      "array-callback-return": "error",
      eqeqeq: "error",
      "no-shadow": "error",
      "no-use-before-define": ["error", { functions: false, variables: false }],
      "prefer-promise-reject-errors": "error",
      "require-await": "error",
      // What nothing uses.
      "no-unused-vars": ["error", { args: "all", argsIgnorePattern: "^_", ignoreRestSiblings: true }],
      "no-useless-return": "error",
      // Text becomes code nowhere.
      "no-eval": "error",
      "no-implied-eval": "error",
      "no-new-func": "error",
      // What has grown too long to be read at once: a file that must be says in its first lines why, and is let off there.
      "max-lines": ["error", 160],
      // One plain way to write it.
      "dot-notation": "error",
      "no-else-return": "error",
      "no-unneeded-ternary": "error",
      "no-var": "error",
      "object-shorthand": "error",
      "prefer-arrow-callback": "error",
      "prefer-const": "error",
      "prefer-template": "error",
    },
  },
  { files: ["site_builder/web/*.js", "tests/browser/*.js"], ignores: WORKER, languageOptions: { globals: globals.browser } },
  { files: WORKER, languageOptions: { globals: globals.worker } },
  // What the build knows stands above the script.
  { files: SERVICE_WORKER, languageOptions: { globals: { ...globals.serviceworker, BUILT: "readonly" } } },
  { files: ["**/*.mjs"], ignores: WORKER, languageOptions: { globals: globals.node } },
];
