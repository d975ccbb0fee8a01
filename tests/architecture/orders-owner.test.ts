import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const src = fileURLToPath(new URL("../../src", import.meta.url));

/**
 * What a row of plans means is said by `series/orders` alone. The others named
 * here carry rows without reading them: records makes them, a study cut at a day
 * or by animals, stripped of people, or read back from an archive copies them, the
 * histories hand them over.
 */
const owners = /^(?:series\/orders\/|records\/)/;
const carriers: Readonly<Record<string, RegExp>> = {
  "series/build-series.ts": /tables\.plans/,
  "analysis/study-up-to.ts": /tables\.plans/,
  "analysis/leave-out-people.ts": /tables\.plans/,
  "analysis/study-of-animals.ts": /tables\.plans/,
  // Puts the end of an order onto the clock of another house, as it does every instant.
  "archive/one-study-of-many.ts": /as unknown as PlanRow\)\.to/,
};

function filesUnder(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? filesUnder(path) : /\.ts$/.test(name) ? [path] : [];
  });
}

/** Code without its comments and its texts. */
const codeOf = (text: string) =>
  text
    .replace(/\/\*[\s\S]*?\*\//g, "")
    .replace(/\/\/.*$/gm, "")
    .replace(/"(?:[^"\\\n]|\\.)*"/g, '""');

/** A row of plans, its table, or one of its columns. */
const readsPlans =
  /\bPlanRow\b|\b(?:tables|study|series)\.plans\b|\b(?:feedTimes|mlPerFeed|feedsPerDay)\b[^;\n]*\.(?:value|words)\b/;

describe("orders have one reader", () => {
  const files = filesUnder(src).map((path) => ({
    name: relative(src, path).replaceAll("\\", "/"),
    code: codeOf(readFileSync(path, "utf8")),
  }));

  it("and nobody else reads rows of plans", () => {
    const readers = files
      .filter(({ name, code }) => !owners.test(name) && readsPlans.test(code))
      .map(({ name }) => name)
      .sort();
    expect(readers).toEqual(Object.keys(carriers).sort());
  });

  it("and those who carry rows look at nothing but their begin", () => {
    for (const { name, code } of files.filter((f) => f.name in carriers)) {
      expect(code).toMatch(carriers[name]!);
      // Words that could not be read are taken out where people are, never read.
      expect(code, name).not.toMatch(/\b(?:plan|to|perFeed|feedTimes|feedsPerDay|days)\.value\b/);
    }
  });

  it("and what is in force over time is made there alone", () => {
    const makers = files
      .filter(({ name, code }) => !owners.test(name) && /\borderSteps\(|\borderLine\(/.test(code))
      .map(({ name }) => name);
    expect(makers).toEqual([]);
  });

  it("and a second reader would be found", () => {
    expect(readsPlans.test("const open = study.tables.plans.filter((p) => p.to === null);")).toBe(
      true,
    );
    expect(readsPlans.test("const n = row.feedTimes?.value.length;")).toBe(true);
    expect(readsPlans.test("const { feedTimes } = options;")).toBe(false);
  });
});
