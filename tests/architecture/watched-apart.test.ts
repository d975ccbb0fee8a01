import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/**
 * The nursery on which levels are measured shares no code with the rules that are tried
 * on it, and nothing that finds thresholds can import it.
 */
const root = fileURLToPath(new URL("../..", import.meta.url));
const filesUnder = (folder: string) =>
  readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join(folder, name));
const importsOf = (name: string) =>
  [...readFileSync(join(root, name), "utf8").matchAll(/from\s+"([^"]+)"/g)].map((m) => m[1]!);

describe("the watched nursery", () => {
  it("is made with random numbers of core and nothing else of the library", () => {
    const generators = ["nursery-pages.ts", "planted-dangers.ts"];
    const used = generators.flatMap((name) => importsOf(`tests/bench/watched/${name}`));
    expect(used.length).toBeGreaterThan(0);
    const outside = used.filter(
      (name) => !/\/core\/random\.js$|^\.\/nursery-pages\.js$/.test(name),
    );
    expect(outside).toEqual([]);
  });

  it("is imported by what measures levels alone", () => {
    const users = [...filesUnder("src"), ...filesUnder("tests"), ...filesUnder("data-demo")].filter(
      (name) =>
        !name.startsWith(join("tests", "bench", "watched")) &&
        importsOf(name).some((to) => /\/watched\//.test(to)),
    );
    expect(users.map((name) => relative(root, join(root, name))).sort()).toEqual([
      "tests/bench/levels.ts",
      "tests/flags/levels-watched.test.ts",
    ]);
  });
});
