import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/bench/**", "node_modules/**"],
    // By default one core is left to the screen; here nobody watches.
    maxWorkers: "100%",
    // Files of one worker share what they import: loading it anew for each took a third of the time.
    isolate: false,
    // No test leans on what another run left in the user's cache folder, or leaves anything there.
    env: { GRAMLINE_CACHE: "off" },
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
