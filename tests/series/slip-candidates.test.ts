import { describe, expect, it } from "vitest";
import type { NetWeighing, WeighingRow } from "../../src/series/animal-series.js";
import { slipCandidates, tareKey, usualTares } from "../../src/series/slip-candidates.js";

/** Units: 1 lb = 453.59237 g, 1 oz = 28.349523125 g (international, NIST SP 811, exact). */
const LB = 453.59237;
const OZ = 28.349523125;
const row = (massG: number, tareG: number | null = 0) =>
  ({ massG, tareG, scaleId: "s1", method: "bucket" }) as unknown as WeighingRow;
/** Grams that may have been meant by a kind of slip, to a tenth of a gram. */
const meant = (
  kind: string,
  massG: number,
  tareG: number | null = 0,
  usual: number | null = null,
) =>
  slipCandidates(row(massG, tareG), usual)
    .filter((c) => c.kind === kind)
    .map((c) => Math.round(c.netG * 10) / 10);
const cost = (kind: string, massG: number, netG: number, tareG = 0) =>
  slipCandidates(row(massG, tareG), null).find(
    (c) => c.kind === kind && Math.abs(c.netG - netG) < 0.5,
  )?.cost;

describe("what may have been meant", () => {
  it("by a decimal place: ten or a thousand times more or less", () => {
    expect(meant("tenth", 212)).toEqual([2120]);
    expect(meant("times ten", 21200)).toEqual([2120]);
    expect(meant("thousandth", 2.12)).toEqual([2120]);
    expect(meant("thousand", 2_120_000)).toEqual([2120]);
  });

  it("by another unit: pounds or ounces for grams, pounds for kilograms either way", () => {
    expect(meant("pounds for grams", 5)).toEqual([Math.round(50 * LB) / 10]);
    expect(meant("ounces for grams", 75)).toEqual([
      Math.round(750 * OZ) / 10,
      Math.round(750 / OZ) / 10,
    ]);
    expect(meant("pounds for kilograms", 2000)).toEqual([
      Math.round(20 * LB) / 10,
      Math.round(20_000_000 / LB) / 10,
    ]);
  });

  it("is less the tare, and nothing where that leaves nothing", () => {
    expect(meant("tenth", 262, 500)).toEqual([2120]);
    expect(meant("times ten", 2620, 500)).toEqual([]);
    expect(meant("times ten", 5000, 500)).toEqual([]);
    expect(meant("tenth", 262, null)).toEqual([2620]);
  });

  it("of reading and tare both written in the other unit", () => {
    // 2.62 kg in a box of 0.5 kg; 5.8 lb in one of 1.1 lb.
    expect(meant("thousandth", 2.62, 0.5)).toContain(2120);
    expect(meant("pounds for grams", 5.8, 1.1)).toContain(Math.round(47 * LB) / 10);
    expect(meant("ounces for grams", 93, 18)).toContain(Math.round(750 * OZ) / 10);
    expect(meant("pounds for kilograms", 2620, 500)).toEqual(
      expect.arrayContaining([Math.round(21.2 * LB) / 10, Math.round(21_200_000 / LB) / 10]),
    );
    // Without a tare, or below it, there is no second meaning.
    expect(meant("thousandth", 2.62, 0)).toEqual([2620]);
    expect(meant("thousandth", 0.5, 0.5)).toEqual([499.5]);
  });

  it("by two digits exchanged, neighbours before others, equal ones never", () => {
    const sorted = (massG: number) => meant("digits swapped", massG).sort((a, b) => a - b);
    // 0231, 1032, 1203, 1320, 2130 and 3210.
    expect(sorted(1230)).toEqual([231, 1032, 1203, 1320, 2130, 3210]);
    expect(sorted(2220)).toEqual([222, 2022, 2202]);
    expect(meant("digits swapped", 1111)).toEqual([]);
    expect(cost("digits swapped", 1230, 2130)).toBeCloseTo(1.5 + Math.log(3), 9);
    expect(cost("digits swapped", 1230, 3210)).toBeCloseTo(3 + Math.log(3), 9);
    // The point stays where it is.
    expect(meant("digits swapped", 12.5)).toEqual([21.5, 52.1, 15.2]);
  });

  it("by a digit left out, wherever it was; none in front of a number is nought", () => {
    const dropped = meant("digit dropped", 212);
    expect(dropped).toEqual(expect.arrayContaining([2120, 2129, 1212, 9212, 2012, 2912, 2102]));
    expect(dropped).not.toContain(212);
    expect(Math.min(...dropped)).toBeGreaterThan(1000);
    expect(new Set(dropped).size).toBe(dropped.length);
    // Before the point, and just at it, never behind it.
    expect(meant("digit dropped", 2.5)).toEqual(expect.arrayContaining([12.5, 20.5, 29.5]));
    expect(meant("digit dropped", 2.5)).not.toContain(2.05);
    expect(cost("digit dropped", 212, 2120)).toBeCloseTo(1.5 + Math.log(4), 9);
  });

  it("of a reading turned into grams from another unit is none of its digits", () => {
    expect(meant("digits swapped", 5.8 * LB)).toEqual([]);
    expect(meant("digit dropped", 5.8 * LB)).toEqual([]);
    expect(meant("digits swapped", 2630.25).length).toBeGreaterThan(0);
  });

  it("by a tare that was forgotten, where that scale usually has one", () => {
    expect(meant("tare forgotten", 2620, 0, 500)).toEqual([2120]);
    expect(meant("tare forgotten", 2620, 99, 500)).toEqual([2120]);
    expect(meant("tare forgotten", 2620, 100, 500)).toEqual([]);
    expect(meant("tare forgotten", 2620, null, 500)).toEqual([2120]);
    expect(meant("tare forgotten", 2620, 0, null)).toEqual([]);
    expect(meant("tare forgotten", 2620, 0, 0)).toEqual([]);
    expect(meant("tare forgotten", 400, 0, 500)).toEqual([]);
    expect(meant("tare forgotten", 500, 0, 500)).toEqual([]);
  });
});

describe("how likely a slip is beforehand", () => {
  const ten = Math.log(10);
  it("falls where a scale would have shown what no scale shows", () => {
    expect(cost("times ten", 21200, 2120)).toBe(1);
    expect(cost("times ten", 21205, 2120.5)).toBeCloseTo(1 + ten, 9);
    expect(cost("thousand", 2_120_000, 2120)).toBe(0.5);
    expect(cost("thousand", 2_120_500, 2120.5)).toBeCloseTo(0.5 + ten, 9);
  });

  it("falls where a whole number multiplied up would end in zeros", () => {
    expect(cost("tenth", 212, 2120)).toBeCloseTo(1 + ten, 9);
    expect(cost("tenth", 212.5, 2125)).toBe(1);
    expect(cost("thousandth", 2, 2000)).toBeCloseTo(0.5 + 2 * ten, 9);
    expect(cost("thousandth", 2.125, 2125)).toBe(0.5);
  });

  it("of another unit does not ask for whole grams", () => {
    expect(cost("pounds for grams", 5, 5 * LB)).toBe(2.5);
    expect(cost("ounces for grams", 75, 75 * OZ)).toBe(2.5);
    expect(cost("ounces for grams", 75, 75 / OZ)).toBe(3);
    expect(cost("pounds for kilograms", 2000, 2000 / (LB / 1000))).toBe(2.5);
  });
});

describe("the usual tare", () => {
  const weighed = (
    tareG: number | null,
    scaleId: string | null = "s1",
    method: string | null = "bucket",
  ) => ({ row: { tareG, scaleId, method } }) as unknown as NetWeighing;
  it("of a scale and a way of weighing is the middle of three and more above nothing", () => {
    const of = (...tares: readonly (number | null)[]) =>
      usualTares(tares.map((t) => weighed(t))).get("s1|bucket");
    expect(of(500, 700, 510)).toBe(510);
    expect(of(500, 510, 700, 900)).toBe(700);
    expect(of(500, 510)).toBeUndefined();
    expect(of(500, 510, 0, null, -3)).toBeUndefined();
  });

  it("is one for each of both", () => {
    const all = [500, 500, 500].flatMap((t) => [
      weighed(t),
      weighed(t + 1, "s2"),
      weighed(t + 2, null, null),
    ]);
    expect([...usualTares(all)].sort()).toEqual([
      ["s1|bucket", 500],
      ["s2|bucket", 501],
      ["|", 502],
    ]);
    expect(tareKey(weighed(1, null, null).row)).toBe("|");
  });
});
