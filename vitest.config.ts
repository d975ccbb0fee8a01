import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/bench/**", "node_modules/**"],
    // By default one core is left to the screen; here nobody watches.
    maxWorkers: "100%",
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
