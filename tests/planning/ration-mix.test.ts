import { describe, expect, it } from "vitest";
import type { EnergyDiet } from "../../src/planning/ration-diet.js";
import {
  dealOut,
  mixDiets,
  partsOf,
  type RationMix,
  shareOfPct,
} from "../../src/planning/ration-mix.js";

const diet = (kind: "formula" | "solid", kcalPerG: number | null, more: object = {}) =>
  ({
    dietId: kind === "formula" ? "milk" : "clam",
    kind,
    kcalPerG,
    densityGPerMl: null,
    composition: { waterPct: 80 },
    ...more,
  }) as unknown as EnergyDiet;
const milk = diet("formula", 1);
const clam = diet("solid", 2, { composition: { waterPct: 70 } });
const mix = (pct: number | null, diets = [milk, clam]) => mixDiets(diets, pct, "P1") as RationMix;
const hour = 3_600_000;
const start = Date.UTC(2025, 4, 1, 6);
const times = (n: number) => Array.from({ length: n }, (_, i) => start + i * 2 * hour);
const deal = (g: number, m: RationMix, n: number, most: number | null = null) =>
  dealOut(g, m, times(n), "UTC", most).feeds.map((f) => [f.dietId, f.g]);

describe("the grams of formula and solid", () => {
  it("give the solid its share of the energy, not of the grams", () => {
    // Half of the energy from clam at 2 kcal/g and milk at 1: a third of the grams.
    const half = mix(50);
    expect(half.gramShares.map((s) => Math.round(1000 * s))).toEqual([667, 333]);
    expect(half.kcalPerG).toBeCloseTo(4 / 3, 9);
    expect(half.waterPerG).toBeCloseTo((2 * 0.8 + 0.7) / 3, 9);
    expect(half.diets.map((d) => d.dietId)).toEqual(["milk", "clam"]);
    expect(mix(0).gramShares).toEqual([1, 0]);
    expect(mix(100).gramShares).toEqual([0, 1]);
    expect(mix(null).gramShares).toEqual([1, 0]);
    expect(mix(50, [clam, milk]).diets.map((d) => d.dietId)).toEqual(["milk", "clam"]);
  });

  it("of one diet are all of it, whatever share is asked for", () => {
    expect(mix(50, [milk])).toMatchObject({ gramShares: [1], kcalPerG: 1 });
    expect(mix(0, [clam])).toMatchObject({ gramShares: [1], kcalPerG: 2 });
  });

  it("have no known water where that of one diet is not known", () => {
    expect(
      mix(50, [milk, diet("solid", 2, { composition: { waterPct: null } })]).waterPerG,
    ).toBeNull();
    expect([shareOfPct(80), shareOfPct(0), shareOfPct(null)]).toEqual([0.8, 0, null]);
  });

  it("are refused without a diet, without an energy, or for a share that is none", () => {
    expect(mixDiets([], 50, "P1")).toMatchObject({
      code: "ration-no-diet",
      level: "caution",
      parameters: { animal: "P1" },
    });
    expect(mixDiets([milk, diet("solid", null)], 50, "P1")).toMatchObject({
      code: "ration-diet-no-energy",
      level: "problem",
      parameters: { animal: "P1", diet: "clam" },
    });
    for (const pct of [-1, 101, Number.NaN])
      expect(mixDiets([milk, clam], pct, "P1")).toMatchObject({
        code: "ration-share-impossible",
        parameters: { pct },
      });
  });
});

describe("the feeds of a day", () => {
  it("add up to the gram, of one diet alike", () => {
    expect(deal(100, mix(0, [milk]), 3)).toEqual([
      ["milk", 34],
      ["milk", 33],
      ["milk", 33],
    ]);
    expect(deal(0, mix(0, [milk]), 2)).toEqual([
      ["milk", 0],
      ["milk", 0],
    ]);
    const [first, second] = dealOut(
      100,
      mix(0, [diet("formula", 1, { densityGPerMl: 1.25 })]),
      times(2),
      "UTC",
      null,
    ).feeds;
    expect(first).toEqual({
      at: start,
      time: "06:00",
      dietId: "milk",
      kind: "formula",
      g: 50,
      ml: 40,
    });
    expect(second!.time).toBe("08:00");
    const ml = (densityGPerMl: number | null) =>
      dealOut(100, mix(0, [diet("formula", 1, { densityGPerMl })]), times(1), "UTC", null).feeds[0]!
        .ml;
    expect([ml(null), ml(0)]).toEqual([null, null]);
  });

  it("of two diets are divided in proportion to their grams, spread over the day", () => {
    // 300 g: 200 of milk and 100 of clam, in six feeds four and two, the solids last of three.
    expect(deal(300, mix(50), 6)).toEqual([
      ["milk", 50],
      ["milk", 50],
      ["clam", 50],
      ["milk", 50],
      ["milk", 50],
      ["clam", 50],
    ]);
    // However little there is of one, it has a feed.
    const little = deal(300, mix(2), 6);
    expect(little.filter(([id]) => id === "clam")).toHaveLength(1);
    expect(little.reduce((sum, [, g]) => sum + (g as number), 0)).toBe(300);
    const much = deal(300, mix(99), 6);
    expect(much.filter(([id]) => id === "milk")).toHaveLength(1);
  });

  it("with a single feed are of the diet with the most grams", () => {
    expect(deal(300, mix(50), 1)).toEqual([["milk", 300]]);
    expect(deal(300, mix(90), 1)).toEqual([["clam", 300]]);
  });

  it("are cut until none is larger than the most that one may be", () => {
    expect(deal(100, mix(0, [milk]), 3, 30)).toEqual([
      ["milk", 30],
      ["milk", 30],
      ["milk", 30],
    ]);
    expect(deal(90, mix(0, [milk]), 3, 30)).toEqual([
      ["milk", 30],
      ["milk", 30],
      ["milk", 30],
    ]);
    const two = deal(300, mix(50), 3, 60);
    expect(Math.max(...two.map(([, g]) => g as number))).toBeLessThanOrEqual(60);
    expect(two.reduce((sum, [, g]) => sum + (g as number), 0)).toBeGreaterThanOrEqual(178);
    // More feeds of a diet than its share, where one feed cannot hold it.
    const room = deal(120, mix(50), 6, 20);
    expect(room.filter(([id]) => id === "milk")).toHaveLength(4);
    expect(room.every(([, g]) => g === 20)).toBe(true);
  });
});

describe("what the feeds come to", () => {
  it("is told diet by diet, with its energy where that is known", () => {
    const { feeds } = dealOut(300, mix(50), times(6), "UTC", null);
    expect(partsOf(feeds, [milk, clam])).toEqual([
      { dietId: "milk", kind: "formula", g: 200, feeds: 4, kcal: 200 },
      { dietId: "clam", kind: "solid", g: 100, feeds: 2, kcal: 200 },
    ]);
    expect(partsOf(feeds, [milk]).map((p) => p.kcal)).toEqual([200, null]);
    expect(partsOf(dealOut(0, mix(0, [milk]), times(2), "UTC", null).feeds, [milk])).toEqual([]);
  });
});
