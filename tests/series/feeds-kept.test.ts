import { describe, expect, it } from "vitest";
import { readStudy } from "../../src/records/files/read-study.js";
import { buildSeries } from "../../src/series/build-series.js";

describe("histories that keep only the feeds in doubt", () => {
  it("say all else as those that keep every feed, on the demo", async () => {
    const study = await readStudy("tests/fixtures/demo-853cc0e");
    const whole = buildSeries(study);
    const lean = buildSeries(study, { feeds: "doubted or noted" });
    const without = (series: typeof whole) => ({
      ...series,
      animals: series.animals.map((animal) => ({ ...animal, feeds: [] })),
    });
    expect(without(lean)).toEqual(without(whole));
    let doubted = 0;
    for (const [i, { feeds }] of whole.animals.entries()) {
      const kept = feeds.filter((f) => f.slip !== undefined || f.row.notes !== null);
      expect(lean.animals[i]!.feeds).toEqual(kept);
      doubted += kept.filter((f) => f.slip !== undefined).length;
    }
    expect(doubted).toBeGreaterThan(0);
  });
});
