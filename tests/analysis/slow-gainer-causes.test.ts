import { beforeAll, describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { families } from "../bench/causes/families.js";
import { type TriedNursery, tryNursery } from "../bench/causes/try-nursery.js";

/**
 * The small sibling of the bench `slow-gainer-causes`: one invented nursery of each
 * family. Seeds 20281400 + family, written down before the first run; the limits
 * are what the bench holds, less what chance does to twelve.
 */
describe("the rivals in twelve invented nurseries", () => {
  const tried: TriedNursery[] = [];
  beforeAll(async () => {
    for (const [i, planted] of families.entries())
      tried.push(await tryNursery(planted, 20281400 + i));
  }, 120_000);

  it("have the planted cause among the first two, and hardly another one called likely", () => {
    expect(tried.filter((t) => t.amongTwo).length).toBeGreaterThanOrEqual(10);
    expect(tried.filter((t) => t.wrong.length > 0).length).toBeLessThanOrEqual(1);
  });

  it("never put a loss, an illness or a thin batch down to scale, swap or a healthy small animal", () => {
    const hurts = tried.filter((t) => ["loses", "illness signs", "thin batch"].includes(t.planted));
    expect(hurts).toHaveLength(3);
    for (const t of hurts)
      for (const excuse of ["scale", "swap", "small but healthy"] as const)
        expect(t.wrong, t.planted).not.toContain(excuse);
  });

  it("answer whether it is real as the table does", () => {
    for (const { explanations: e, real } of tried) {
      const verdict = (rival: string) => e.rivals.find((r) => r.rival === rival)!.verdict;
      for (const a of real.answers) {
        if (a.question === "coat" || a.question === "meal") continue;
        expect(a.verdict).toBe(
          { likely: "found", "speaks against": "not found" }[verdict(a.question) as string] ??
            "cannot be told",
        );
      }
    }
  });

  it("say in short what stands in the table, with every sentence whole", () => {
    for (const { explanations: e } of tried) {
      const table = new Set(
        e.rivals.flatMap((r) => [...r.speaksFor, ...r.speaksAgainst, ...r.ask]),
      );
      for (const n of e.inShort) {
        if (n !== e.headline) expect(table.has(n), n.code).toBe(true);
        expect(noticeText(n)).not.toMatch(/undefined|NaN|\[object|(^|[\s(])\?[\s).,;]/);
      }
      // Standing falls from the first to the last.
      const ranks = e.rivals.map((r) =>
        ["likely", "possible", "cannot be told", "speaks against"].indexOf(r.verdict),
      );
      expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    }
  });
});
