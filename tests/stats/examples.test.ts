import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";

/**
 * The examples in the docstrings, evaluated: one that ends in a plain number must
 * give that number. Only whole files whose examples stand alone are listed.
 */
const src = fileURLToPath(new URL("../../src/stats", import.meta.url));
const places = [
  "descriptive",
  "distributions",
  "hypothesis-tests",
  "linear-algebra",
  "numeric",
  "robust",
  "sequential",
  "special-functions",
  "survival/kaplan-meier.ts",
];

const under = (path: string): string[] =>
  statSync(path).isDirectory() ? readdirSync(path).flatMap((n) => under(join(path, n))) : [path];
const paths = places.flatMap((name) => under(join(src, name)));

describe("docstring examples", () => {
  it("give the values they state", async () => {
    const scope: Record<string, unknown> = {};
    for (const path of paths) Object.assign(scope, await import(pathToFileURL(path).href));
    const wrong: string[] = [];
    let compared = 0;
    for (const path of paths) {
      for (const [, line] of readFileSync(path, "utf8").matchAll(
        /@example\s+(.*?)(?:\s*\*\/|\n)/g,
      )) {
        const cut = line!.lastIndexOf(" // ");
        const stated = cut < 0 ? "" : line!.slice(cut + 4).trim();
        if (!/^-?\d+(\.\d+)?(e-?\d+)?$/.test(stated)) continue;
        compared++;
        const evaluate = new Function(...Object.keys(scope), `return (${line!.slice(0, cut)});`);
        const got: unknown = evaluate(...Object.values(scope));
        const off = typeof got === "number" ? Math.abs(got - Number(stated)) : Number.NaN;
        // As precise as the digits written.
        const digits = stated
          .replace(/e.*$/, "")
          .replace(/^-?0?\.?0*/, "")
          .replace(".", "").length;
        const allowed = Math.abs(Number(stated)) * Math.max(1e-12, 10 ** (1 - digits));
        if (!(off <= allowed)) wrong.push(`${line} gives ${got}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(40);
  });
});
