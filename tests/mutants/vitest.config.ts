import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

/** The tests that are to catch the mutants of one file: `.ci/mutants.mjs` names them. */
export default defineConfig({
  root: fileURLToPath(new URL("../..", import.meta.url)),
  test: {
    include: JSON.parse(process.env["MUTANTS_TESTS"] ?? "[]"),
    env: { GRAMLINE_CACHE: "off" },
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
