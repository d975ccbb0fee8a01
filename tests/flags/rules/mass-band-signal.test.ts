import { describe, expect, it } from "vitest";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { massBandOn, massBandSignal } from "../../../src/flags/rules/mass-band-signal.js";
import type { DailyMass, MassBand } from "../../../src/series/animal-series.js";
import { found } from "./fed-days.js";

/** 1,000 to 1,200 g in March, 1,400 to 1,800 g in September: 184 days apart. */
const band = {
  setBy: "Dr. Ume",
  points: [
    { on: "03-01", lowG: 1000, highG: 1200 },
    { on: "09-01", lowG: 1400, highG: 1800 },
  ],
} as MassBand;
const level = { setBy: null, points: [{ on: "06-15", lowG: 1000, highG: 1200 }] } as MassBand;

describe("a band over the year", () => {
  it("runs along straight lines between its days, on into the next year", () => {
    expect(massBandOn(band, "2025-03-01")).toEqual({ lowG: 1000, highG: 1200 });
    expect(massBandOn(band, "2025-09-01")).toEqual({ lowG: 1400, highG: 1800 });
    // 92 of 184 days on.
    expect(massBandOn(band, "2025-06-01")).toEqual({ lowG: 1200, highG: 1500 });
    // Back down over 181 days: after 30 of them, and in January, 122 days on.
    expect(massBandOn(band, "2025-10-01").lowG).toBeCloseTo(1400 - (400 * 30) / 181, 9);
    expect(massBandOn(band, "2026-01-01").lowG).toBeCloseTo(1400 - (400 * 122) / 181, 9);
    expect(massBandOn(band, "2026-01-01").highG).toBeCloseTo(1800 - (600 * 122) / 181, 9);
  });

  it("with one day is the same all year, in whatever order days are entered", () => {
    for (const day of ["2025-01-01", "2025-06-15", "2025-12-31"])
      expect(massBandOn(level, day)).toEqual({ lowG: 1000, highG: 1200 });
    const turned = { ...band, points: [...band.points].reverse() } as MassBand;
    expect(massBandOn(turned, "2025-06-01")).toEqual({ lowG: 1200, highG: 1500 });
  });
});

describe("the rule of the band", () => {
  const day = "2025-06-10";
  const on = (feedingDay: string, massG: number) => ({ feedingDay, massG }) as DailyMass;
  const of = (daily: readonly DailyMass[], own: MassBand | undefined = level) => {
    const settings = { massBands: own === undefined ? undefined : { P1: own } };
    return massBandSignal(
      { id: "P1", settings, series: { daily } } as unknown as PreparedAnimal,
      day,
    );
  };
  const three = (...g: readonly number[]) => g.map((m, i) => on(`2025-06-0${i + 1}`, m));

  it("names a mass below or above it, its ends are within", () => {
    expect(found(of(three(1000, 1000, 1000)))).toEqual(["within"]);
    expect(found(of(three(1200, 1200, 1200)))).toEqual(["within"]);
    const [low] = of(three(990, 990, 990)) as Signal[];
    expect(low).toMatchObject({
      class: "practice",
      kind: "outside mass band",
      direction: "low",
      raised: true,
      threshold: 1000,
      evidence: { massG: 990, lowG: 1000, highG: 1200, weighings: 3 },
      value: { value: 990, unit: "g", n: 3 },
    });
    // 10 g of 49.5 g, a twentieth of its mass, beyond.
    expect(low!.strength).toBeCloseTo(1 + 10 / 49.5, 9);
    expect(low!.sentence.parameters).toMatchObject({
      mass: 990,
      n: 3,
      low: 1000,
      high: 1200,
      by: null,
      outside: true,
    });
    const [high] = of(three(1230, 1230, 1230)) as Signal[];
    expect(high).toMatchObject({ direction: "high", raised: true, threshold: 1200 });
    expect(high!.strength).toBeCloseTo(1 + 30 / 61.5, 9);
    const [within] = of(three(1100, 1100, 1100)) as Signal[];
    expect(within).toMatchObject({
      raised: false,
      strength: 0,
      sentence: { parameters: { outside: false } },
    });
    // However far beyond, 3 is the most.
    expect((of(three(100, 100, 100))[0] as Signal).strength).toBe(3);
  });

  it("takes the middle of the last three weighed days, so that one odd mass does not name it", () => {
    expect(found(of(three(1100, 900, 1100)))).toEqual(["within"]);
    expect(found(of([on("2025-05-30", 1100), ...three(1100, 900, 900)]))).toEqual(["raised"]);
  });

  it("looks at the last 42 days alone, and at nothing later", () => {
    // 42 days before 10 June is 29 April.
    const old = (d: string) => of([on(d, 900)]);
    expect(found(old("2025-04-30"))).toEqual(["raised"]);
    expect(old("2025-04-29")).toMatchObject([
      { why: { code: "flag-not-weighed", parameters: { animal: "P1", day, last: "2025-04-29" } } },
    ]);
    expect(found(old(day))).toEqual(["raised"]);
    expect(old("2025-06-11")).toMatchObject([{ why: { parameters: { last: null } } }]);
    const [two] = of([on("2025-04-29", 900), on("2025-04-01", 900)].reverse());
    expect(two).toMatchObject({
      kind: "outside mass band",
      why: { parameters: { last: "2025-04-29" } },
    });
  });

  it("judges nothing without a band of this animal", () => {
    const animal = { id: "P1", settings: {}, series: { daily: three(1, 1, 1) } };
    expect(massBandSignal(animal as unknown as PreparedAnimal, day)).toEqual([]);
    const other = { ...animal, settings: { massBands: { P2: level } } };
    expect(massBandSignal(other as unknown as PreparedAnimal, day)).toEqual([]);
  });
});
