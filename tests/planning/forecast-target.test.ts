import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { forecastAnimals } from "../../src/planning/forecast-animals.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { forecastsOf } from "../bench/worlds/forecasts-in-world.js";
import { heldOut } from "../bench/worlds/worlds.js";
import { day, smallStudySeries, start } from "../rates/small-study.js";

/** A Gompertz curve of its own final mass, born at noon ten days before the start. */
const massAt = (finalG: number, ageD: number) => finalG * Math.exp(-Math.exp(-0.02 * (ageD - 60)));
const ageAt = (finalG: number, massG: number) => 60 - Math.log(-Math.log(massG / finalG)) / 0.02;
const at = (d: number) => start + d * day;
const birth = start - 10 * day + 6 * 3_600_000;
const ageOf = (instant: number) => (instant - birth) / day;

interface Grown {
  readonly id: string;
  readonly finalG: number;
  readonly from: number;
  readonly to: number;
  readonly animal?: Record<string, unknown>;
}

/** Animals born on one day, weighed daily between two days after the start. */
function study(grown: readonly Grown[], seed = 20260701): StudySeries {
  const random = seededRandom(seed);
  return smallStudySeries({
    animals: grown.map(({ id, from, animal }) => ({
      animalId: id,
      name: id,
      birthDateEarliest: "2025-04-21",
      birthDateLatest: "2025-04-21",
      admittedAt: at(from) - 3_600_000,
      season: "2025",
      ...animal,
    })),
    weighingRows: grown.flatMap(({ id, finalG, from, to }) =>
      Array.from({ length: to - from + 1 }, (_, i) => ({
        animalId: id,
        at: at(from + i),
        massG: massAt(finalG, ageOf(at(from + i))) * Math.exp(0.007 * random.normal()),
      })),
    ),
  });
}

const finals = [13_500, 14_200, 15_000, 15_600, 16_300];
/** Two weeks of weighings short of day 60 for N; the others a month further on in years. */
const others = finals.map((finalG, i) => ({ id: `C${i}`, finalG, from: 0, to: 60 }));
const nursery = (more: Partial<Grown> = {}) =>
  study([...others, { id: "N", finalG: 14_600, from: 0, to: 60, ...more }]);
const forecastOf = (s: StudySeries, targetG: number, on = 60.2) => {
  const found = forecastAnimals(s, { species: "sea otter", at: at(on), targetG }).value.forecasts;
  return found.find((f) => f.animalId === "N")!;
};
const usual = nursery();

describe("the forecast of a target mass", () => {
  const r = forecastOf(usual, 7500);
  const truth = ageAt(14_600, 7500) - ageOf(at(60.2));

  it("holds the day on which a known curve reaches it", () => {
    expect(r.refused).toBeNull();
    expect(truth).toBeGreaterThan(5);
    expect(r.inDays.interval!.lower!).toBeLessThan(truth);
    expect(r.inDays.interval!.upper!).toBeGreaterThan(truth);
    expect(Math.abs(r.inDays.value! - truth)).toBeLessThan(3);
    expect([r.earliest! <= r.likely!, r.likely! <= r.latest!]).toEqual([true, true]);
  });

  it("has a path whose middle and upper limit cross the target on the days given", () => {
    const crossed = (of: "massG" | "upper") => {
      const i = r.path.findIndex((p) => p[of] >= 7500);
      const [a, b] = [r.path[i - 1]!, r.path[i]!];
      return a.aheadD + ((b.aheadD - a.aheadD) * (7500 - a[of])) / (b[of] - a[of]);
    };
    expect(Math.abs(crossed("massG") - r.inDays.value!)).toBeLessThan(0.3);
    expect(Math.abs(crossed("upper") - r.inDays.interval!.lower!)).toBeLessThan(0.3);
    for (const p of r.path) {
      const inOrder = [p.weighedLower, p.lower, p.massG, p.upper, p.weighedUpper];
      expect(inOrder).toEqual([...inOrder].sort((a, b) => a - b));
    }
  });

  it("shows beside it what was forecast two weeks before for the newest weighing", () => {
    const b = r.backtest!;
    expect([b.aheadD, b.madeOn]).toEqual([14, "2025-06-16"]);
    expect(b.forecastG.value! - b.actualG).toBeCloseTo(b.errorG, 8);
    expect(Math.abs(b.errorG) / b.actualG).toBeLessThan(0.05);
    // A day's weighing spoilt since then is outside of what was expected of it, and moves nothing else of it.
    const fallen = {
      ...usual,
      animals: usual.animals.map((s) => ({
        ...s,
        daily: s.daily.map((d) =>
          s.animal.animalId === "N" && d.at > at(59.5) ? { ...d, massG: 0.8 * d.massG } : d,
        ),
      })),
    };
    const spoilt = forecastOf(fallen, 7500).backtest!;
    expect(spoilt.forecastG).toEqual(b.forecastG);
    expect(spoilt.inside).toBe(false);
  });

  it("uses nothing recorded after it is made", () => {
    const cut = study([...others, { id: "N", finalG: 14_600, from: 0, to: 60 }]);
    const early = {
      ...cut,
      animals: cut.animals.map((s) => ({ ...s, daily: s.daily.filter((d) => d.at <= at(40)) })),
    };
    expect(forecastOf(usual, 7500, 40.2)).toEqual(forecastOf(early, 7500, 40.2));
  });

  it("says so when the target is reached already", () => {
    const there = forecastOf(usual, 3000);
    expect([there.reached, there.inDays.value, there.path]).toEqual([true, 0, []]);
  });

  it("is refused, with the reason, where it cannot be told", () => {
    const why = (s: StudySeries, targetG: number) => forecastOf(s, targetG).refused?.code;
    expect(why(usual, 600_000)).toBe("forecast-beyond-model");
    expect(why(usual, 0)).toBe("forecast-target-impossible");
    expect(why(nursery({ from: 58 }), 7500)).toMatch(/forecast-(phase|few-weighings)/);
    expect(why(nursery({ to: 40 }), 7500)).toBe("forecast-old-weighing");
    const ageless = { birthDateEarliest: null, birthDateLatest: null, birthDateBasis: "unknown" };
    expect(why(nursery({ animal: ageless }), 7500)).toBe("forecast-no-age");
  });

  it("carries a wide birth range through at both ends, and leaves out an animal without a target", () => {
    const wide = nursery({
      animal: { birthDateEarliest: "2025-04-16", birthDateLatest: "2025-04-26" },
    });
    const [a, b] = [r.inDays.interval!, forecastOf(wide, 7500).inDays.interval!];
    expect(b.upper! - b.lower!).toBeGreaterThan(a.upper! - a.lower!);
    const none = forecastAnimals(usual, { species: "sea otter", at: at(60.2) });
    expect(none.value.forecasts).toEqual([]);
    expect(none.notices.map((n) => n.code)).toContain("forecast-no-target");
  });

  it("is of an animal that is alone too", () => {
    const alone = forecastOf(study([{ id: "N", finalG: 14_600, from: 0, to: 60 }]), 7500);
    const { lower, upper } = alone.inDays.interval!;
    expect(lower! < truth && (upper === null || truth < upper)).toBe(true);
    expect((upper ?? 120) - lower!).toBeGreaterThan(
      r.inDays.interval!.upper! - r.inDays.interval!.lower!,
    );
  });
});

describe("limits two weeks ahead in a world of another make", () => {
  // Small sibling of the bench `forecast-coverage`. Seed 15406, written down before the first run.
  it("hold about 95 of 100: the mass, and the days to a target", () => {
    const hard = heldOut.find((w) => w.name === "hard")!;
    const all = Array.from({ length: 8 }, (_, i) =>
      forecastsOf(hard, { size: 4, before: "nothing" }, [], 15_406_000 + i),
    ).flat();
    const share = (held: readonly boolean[]) => held.filter((h) => h).length / held.length;
    expect(all.length).toBeGreaterThan(30);
    expect(all.filter((f) => f.days === null).length / all.length).toBeLessThan(0.1);
    // Three standard errors below 95 of 100 with animals of one nursery erring alike.
    expect(share(all.map((f) => f.mass.held))).toBeGreaterThan(0.8);
    expect(share(all.flatMap((f) => f.days?.held ?? []))).toBeGreaterThan(0.8);
    // A limit that held by being wide would not be of use: the oracle's interval score at most doubled.
    const score = (of: (f: (typeof all)[number]) => number) => all.reduce((s, f) => s + of(f), 0);
    expect(score((f) => f.mass.score) / score((f) => f.trueMass.score)).toBeLessThan(2);
  });
});
