import { existsSync, readdirSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));
const papers = ["DEVELOPERS.md", "README.md", "SECURITY.md"];
const textOf = (paper: string) => readFileSync(join(root, paper), "utf8");

/** Where a path in a paper may begin. */
const places = ["", "src", "src/command-line", "tests", "tests/bench"];

/** Names in backticks that look like paths: with a slash or an ending, without blanks. */
function pathsIn(text: string): string[] {
  const named = [...text.matchAll(/`([^`\s]+)`/g)].map((m) => m[1]!);
  return [...new Set(named)].filter(
    (name) =>
      /^[a-z.][\w./*-]*$/i.test(name) &&
      !name.includes("...") &&
      (/\.(ts|mjs|md|json|ipynb|svg|csv)$/.test(name) ||
        /^(src|tests|records|series|rates|growth|reference|flags|seasons|planning|analysis|charts|report|notebook|publish|command-line|stats|units|species|core)\//.test(
          name,
        )),
  );
}

/** Whether a path exists as it stands, as a module without its ending, or by a pattern with one star. */
function exists(path: string): boolean {
  return places.some((place) => {
    const at = join(root, place, path);
    if (!path.includes("*"))
      return ["", ".ts", ".test.ts"].some((ending) => existsSync(at + ending));
    const [before, after] = basename(at).split("*") as [string, string];
    const folder = dirname(at);
    return (
      existsSync(folder) &&
      readdirSync(folder).some((name) => name.startsWith(before) && name.endsWith(after))
    );
  });
}

/** Files of a user's study or of a run, which the project does not hold. */
const notOurs =
  /^(study|answers|decisions|weighings|animals|acknowledgements|index|tables|rows-not-used|\.written-by-gramline|package-lock)\b|^out\//;

describe("the papers of the house", () => {
  it.each(papers)("%s names no file or room that is not there", (paper) => {
    const named = pathsIn(textOf(paper)).filter((path) => !notOurs.test(path));
    expect(named.filter((path) => !exists(path))).toEqual([]);
    if (paper === "DEVELOPERS.md") expect(named.length).toBeGreaterThan(60);
  });

  it.each(papers)("%s names no script or bench that is not there", (paper) => {
    const { scripts } = JSON.parse(textOf("package.json")) as { scripts: Record<string, string> };
    const run = [...textOf(paper).matchAll(/npm run ([\w:-]+)(?: ([a-z][\w-]*))?/g)];
    const missing = run.flatMap(([whole, script, bench]) =>
      scripts[script!] === undefined ||
      (script === "bench" && bench !== undefined && !exists(`tests/bench/${bench}.ts`))
        ? [whole]
        : [],
    );
    expect(missing).toEqual([]);
  });

  it("notices a path that is gone and a bench that never was", () => {
    expect(exists("src/analysis/analyse.ts")).toBe(true);
    expect(exists("analysis/ask-*")).toBe(true);
    expect(exists("analysis/ask-nothing.ts")).toBe(false);
    expect(pathsIn("see `flags/levels` and `a word`")).toEqual(["flags/levels"]);
  });

  it("DEVELOPERS.md opens with the way of a weighing, in the order of the rooms", () => {
    const way = textOf("DEVELOPERS.md").split("## ")[1]!;
    expect(way).toMatch(/^From a weighing to a flag/);
    const rooms = [...way.matchAll(/`([a-z]+)\/[\w./-]+`/g)].map((m) => m[1]!);
    const first = (room: string) => rooms.indexOf(room);
    const order = ["records", "series", "rates", "flags", "report", "publish"].map(first);
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order[0]).toBe(0);
  });
});
