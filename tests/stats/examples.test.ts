import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";

const src = fileURLToPath(new URL("../../src", import.meta.url));

const under = (path: string): string[] =>
  statSync(path).isDirectory() ? readdirSync(path).flatMap((n) => under(join(path, n))) : [path];

interface Example {
  readonly path: string;
  readonly code: string;
  readonly stated: string;
}

/** Everything from `@example` to the next tag or the end of its comment; the last line states the value. */
function examplesOf(path: string): Example[] {
  const blocks = readFileSync(path, "utf8").matchAll(/@example\s([\s\S]*?)(?=\*\/|\n \* @)/g);
  return [...blocks].map(([, block]) => {
    const lines = block!.split("\n").map((line) => line.replace(/^ \*( |$)/, "").trimEnd());
    const text = lines.filter((line) => line.trim() !== "").join("\n");
    const cut = text.lastIndexOf(" // ");
    return {
      path,
      code: cut < 0 ? text : text.slice(0, cut),
      stated: cut < 0 ? "" : text.slice(cut + 4).trim(),
    };
  });
}

const isNumber = (stated: string) => /^-?\d+(\.\d+)?(e-?\d+)?$/.test(stated);

/** The last line is the value, those before it are statements. */
function evaluated({ code }: Example, scope: Readonly<Record<string, unknown>>): unknown {
  const lines = code.split("\n");
  const last = lines.map((line) => line.endsWith(";")).lastIndexOf(true) + 1;
  const body = `${lines.slice(0, last).join("\n")}\nreturn (${lines.slice(last).join("\n")});`;
  try {
    return new Function(...Object.keys(scope), body)(...Object.values(scope));
  } catch (error) {
    return error;
  }
}

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
    const scope: Record<string, unknown> = {};
    for (const path of paths) Object.assign(scope, await import(pathToFileURL(path).href));
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
