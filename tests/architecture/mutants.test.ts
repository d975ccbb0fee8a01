import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const json = (name: string) => JSON.parse(readFileSync(at(`tests/mutants/${name}.json`), "utf8"));
const files: Record<string, string[]> = json("deciding-files");
const scores: Record<string, { caught: number; of: number; pct: number; decisions: string }> =
  json("scores");

describe("the files whose mutants must die", () => {
  it("are at least forty, are there, and so are the tests that are asked", () => {
    expect(Object.keys(files).length).toBeGreaterThanOrEqual(40);
    expect(Object.keys(files).filter((name) => !existsSync(at(`src/${name}`)))).toEqual([]);
    const tests = Object.values(files).flat();
    expect(tests.filter((name) => !existsSync(at(`tests/${name}`)))).toEqual([]);
    // Goldens say that a number moved, not that it was right.
    expect(tests.filter((name) => name.startsWith("goldens/"))).toEqual([]);
  });

  it("have each a score, which is what was counted of what the file decided then", () => {
    // `npm run mutants changed`, which the whole check runs, measures again what has changed since.
    expect(Object.keys(scores).sort()).toEqual(Object.keys(files).sort());
    for (const { caught, of, pct, decisions } of Object.values(scores)) {
      expect(pct).toBeCloseTo((100 * caught) / of, 1);
      expect(decisions).toMatch(/^[0-9a-f]{16}$/);
    }
  });

  it("die to 85 % and more in every one of them", () => {
    const below = Object.entries(scores).filter(([, { pct }]) => pct < 85);
    expect(below.map(([name, { pct }]) => `${name}: ${pct} %`)).toEqual([]);
  });
});
