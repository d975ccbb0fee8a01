import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { evaluated, examplesOf, scopeOf, src, under } from "./example-calls.js";

const isNumber = (stated: string) => /^-?\d+(\.\d+)?(e-?\d+)?$/.test(stated);

/** As precise as the digits written. */
function within(got: unknown, stated: string): boolean {
  const digits = stated
    .replace(/e.*$/, "")
    .replace(/^-?0?\.?0*/, "")
    .replace(".", "").length;
  const allowed = Math.abs(Number(stated)) * Math.max(1e-12, 10 ** (1 - digits));
  return typeof got === "number" && Math.abs(got - Number(stated)) <= allowed;
}

const modulesOf = (given: object): object[] => [
  given,
  ...Object.values(given).filter(
    (each) => (each as { [Symbol.toStringTag]?: string })?.[Symbol.toStringTag] === "Module",
  ),
];

describe("docstring examples", () => {
  it("of stats and growth give the numbers that they state", async () => {
    const paths = [...under(join(src, "stats")), ...under(join(src, "growth"))];
    const scope = await scopeOf(paths);
    const stating = paths.flatMap(examplesOf).filter((each) => isNumber(each.stated));
    const wrong = stating.flatMap((each) => {
      const got = evaluated(each, scope);
      return within(got, each.stated) ? [] : [`${each.path}: ${each.code} gives ${got}`];
    });
    expect(wrong).toEqual([]);
    expect(stating.length).toBeGreaterThan(120);
  });

  it("stand on every public function of stats", async () => {
    const without = new Set(
      under(join(src, "stats")).flatMap((path) => {
        const found = readFileSync(path, "utf8").matchAll(
          /(\/\*\*(?:(?!\*\/)[\s\S])*\*\/\s*)?export (?:async )?function (\w+)/g,
        );
        return [...found]
          .filter(([, doc]) => !/@example/.test(doc ?? ""))
          .map(([, , name]) => name!);
      }),
    );
    const published = modulesOf(await import(pathToFileURL(join(src, "stats/index.ts")).href))
      .flatMap((each) => Object.entries(each))
      .filter(([, each]) => typeof each === "function");
    const lacking = published.map(([name]) => name).filter((name) => without.has(name));
    expect(lacking).toEqual([]);
    expect(published.length).toBeGreaterThan(150);
  });
});
