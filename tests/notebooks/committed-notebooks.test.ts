import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

interface Cell {
  readonly cell_type: "code" | "markdown";
  readonly source: string | readonly string[];
  readonly metadata: { readonly tags?: readonly string[] };
  readonly outputs?: readonly unknown[];
  readonly execution_count?: number | null;
}

const folder = fileURLToPath(new URL("../../notebooks", import.meta.url));
const names = readdirSync(folder).filter((name) => name.endsWith(".ipynb"));
const textOf = (cell: Cell) =>
  typeof cell.source === "string" ? cell.source : cell.source.join("");
const cellsOf = (name: string) =>
  (JSON.parse(readFileSync(join(folder, name), "utf8")) as { cells: Cell[] }).cells;

describe("the committed notebooks", () => {
  it("are the four that the readers were promised, and more where more was built", () => {
    expect(names).toEqual(
      expect.arrayContaining([
        "husbandry-report.ipynb",
        "season-comparison.ipynb",
        "slow-gainer.ipynb",
        "start-here.ipynb",
      ]),
    );
  });

  describe.each(names)("%s", (name) => {
    const cells = cellsOf(name);
    const code = cells.filter((c) => c.cell_type === "code");
    const words = cells.filter((c) => c.cell_type === "markdown").map(textOf);

    it("carries no outputs and no execution counts", () => {
      expect(code.filter((c) => c.outputs?.length !== 0)).toEqual([]);
      expect(code.filter((c) => c.execution_count !== null)).toEqual([]);
    });

    it("opens with its question", () => {
      expect(words[0]).toMatch(/^# .*\?/);
    });

    it("says its caution once, where something is decided: repeated ones stop being read", () => {
      const cautions = words.join("\n").match(/\*\*Caution\.\*\*/g) ?? [];
      // Under the answer about a slow gainer the caution is part of what is shown.
      expect(cautions).toHaveLength(name === "slow-gainer.ipynb" ? 0 : 1);
      expect(words[0]).not.toMatch(/\*\*Caution\.\*\*/);
    });

    it("has exactly one cell tagged parameters, and it comes first among the code", () => {
      expect(code.filter((c) => c.metadata.tags?.includes("parameters"))).toHaveLength(1);
      expect(code[0]?.metadata.tags).toContain("parameters");
    });

    it("says how many rows could not be used; of one animal, in a fold of its own", () => {
      const at = code.findIndex((c) => /page\.records/.test(textOf(c)));
      expect(at).toBeGreaterThan(-1);
      if (name !== "slow-gainer.ipynb") expect(at).toBeLessThanOrEqual(3);
    });

    it("is short enough to read: no cell over eight lines, and one call of the reader's question", () => {
      for (const c of code) expect(textOf(c).split("\n").length, textOf(c)).toBeLessThanOrEqual(8);
      const calls = code.flatMap((c) => [...textOf(c).matchAll(/g\.ask[A-Z]\w+\(/g)]);
      // The page about curves asks about a young animal as well.
      expect(calls).toHaveLength(name === "explain-growth-curves.ipynb" ? 2 : 1);
    });

    it("uses the public library only", () => {
      const imports = code.flatMap((c) => [
        ...textOf(c).matchAll(/from\s+["']([^"']+)["']|require\(/g),
      ]);
      const own = ["simple-statistics", "ml-regression"];
      const ends = ["start-here.ipynb", "husbandry-report.ipynb"].includes(name);
      // An archive is files on disk, which need Node.
      const node = name === "pool-nurseries.ipynb" ? ["gramline/node"] : [];
      expect(imports.map((m) => m[1])).toEqual(["gramline", ...node, ...(ends ? own : [])]);
    });

    it("holds no statistics of its own", () => {
      const all = code.map(textOf).join("\n");
      expect(all).not.toMatch(/Math\.|\.reduce\(|\*\*|\bsum\b|\bmean\b\s*=/);
    });

    it("ends with what to do, what it cannot tell and a clean-run assertion", () => {
      const last = words.filter((w) => !w.startsWith("## My own question"));
      const end = last.at(-1) ?? "";
      expect(last.slice(-2).join("\n")).toMatch(/## What to do|## Questions for the examination/);
      expect(end).toMatch(/## What this page cannot tell/);
      expect(textOf(code.at(-1)!)).toMatch(/await g\.notebook\.assertClean\(\)/);
    });

    it("names its kernel and nothing of the machine it was written on", () => {
      const raw = readFileSync(join(folder, name), "utf8");
      expect(raw).toMatch(/"name": "tslab"/);
      expect(raw).not.toMatch(/\/home\/|\/work\/|\/tmp\/|[A-Z]:\\\\/);
    });
  });
});
