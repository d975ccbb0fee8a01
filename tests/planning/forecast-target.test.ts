import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { fitCohort } from "../../src/growth/cohort/fit-cohort.js";
import { calibrateForecast } from "../../src/planning/calibrate-forecast.js";
import { forecastAnimals } from "../../src/planning/forecast-animals.js";
import type { ForecastModel } from "../../src/planning/forecast-expectation.js";
import { forecastTarget } from "../../src/planning/forecast-target.js";
import type { AnimalSeries } from "../../src/series/animal-series.js";
import { addDays } from "../../src/units/calendar.js";
import { day, settings, smallSeries, start } from "../rates/small-study.js";
import { ordersFrom } from "../series/plan-row.js";

/** Born at noon ten days before the start; a Gompertz curve of 15 kg with its own final mass. */
const massAt = (finalG: number, ageD: number) => finalG * Math.exp(-Math.exp(-0.02 * (ageD - 60)));
const ageAt = (finalG: number, massG: number) => 60 - Math.log(-Math.log(massG / finalG)) / 0.02;

function animal(id: string, finalG: number, days: number, seed: number, noise = 15): AnimalSeries {
  const random = seededRandom(seed);
  const weighings = Array.from({ length: days }, (_, d) => {
    const at = start + d * day;
    const ageD = (at - Date.UTC(2025, 3, 21, 12)) / day;
    return [at, massAt(finalG, ageD) + noise * random.normal()] as const;
  });
  const s = smallSeries({ weighings });
  return { ...s, animal: { ...s.animal, animalId: id } };
}

const finals = [13500, 14200, 15000, 15600, 16300, 14800, 15200, 13900];
const cohort = finals.map((f, i) => animal(`C${i}`, f, 130, 20260701 + i));
const fit = fitCohort(
  cohort.map((s) => ({
    animal: s.animal.animalId,
    ages: s.daily.map((d) => d.ageD!),
    masses: s.daily.map((d) => d.massG),
  })),
  { curve: "gompertz" },
);
const model: ForecastModel = { kind: "cohort", fit };
const mine = (days: number, finalG = 14600) => animal("N1", finalG, days, 20260720);
const at = (d: number) => start + d * day;

describe("the forecast of a target mass", () => {
  it("finds the day on which a known curve reaches it, and its interval holds that day", () => {
    const truth = ageAt(14600, 8000);
    const born = "2025-04-21";
    const r = forecastTarget(mine(60), { settings, model, targetG: 8000 }).value;
    expect(r.refused).toBeNull();
    const trueDay = addDays(born, Math.round(truth + 0.5));
    expect(Math.abs(r.inDays.value! - (truth - 69.25 + 0.5))).toBeLessThan(3);
    expect(r.earliest! <= trueDay && (r.latest === null || r.latest >= trueDay)).toBe(true);
    expect(r.likely! >= r.earliest!).toBe(true);
  });

  it("has a path that leads to the target: its limits and middle cross it on the days given", () => {
    const r = forecastTarget(mine(60), { settings, model, targetG: 8000 }).value;
    const { path } = r;
    expect(path[0]!.ageD).toBeLessThan(path.at(-1)!.ageD);
    for (const p of path) expect(p.lower <= p.massG && p.massG <= p.upper).toBe(true);
    // Straight lines between the points, a curve that rises evenly: within half a day.
    const crossed = (of: "massG" | "upper") => {
      const i = path.findIndex((p) => p[of] >= 8000);
      const [a, b] = [path[i - 1]!, path[i]!];
      return a.ageD + ((b.ageD - a.ageD) * (8000 - a[of])) / (b[of] - a[of]);
    };
    const now = path[0]!.ageD;
    expect(Math.abs(crossed("massG") - now - r.inDays.value!)).toBeLessThan(0.5);
    expect(Math.abs(crossed("upper") - now - r.inDays.interval!.lower!)).toBeLessThan(0.5);
    const there = forecastTarget(mine(60), { settings, model, targetG: 1000 }).value;
    expect(there).toMatchObject({ reached: true, path: [] });
  });

  it("narrows as weighings arrive", () => {
    const width = (n: number) => {
      const i = forecastTarget(mine(n), { settings, model, targetG: 8000 }).value.inDays.interval!;
      return i.upper! - i.lower!;
    };
    expect(width(60)).toBeLessThan(width(25));
  });

  it("shows beside it what would have been forecast 14 days before", () => {
    const b = forecastTarget(mine(60), { settings, model, targetG: 8000 }).value.backtest!;
    expect(b.aheadD).toBe(14);
    expect(b.forecastG.value! - b.actualG).toBeCloseTo(b.errorG, 8);
    expect(Math.abs(b.errorG) / b.actualG).toBeLessThan(0.03);
    expect(b.likely).not.toBeNull();
  });

  it("uses nothing recorded after it is made", () => {
    const early = forecastTarget(mine(60), { settings, model, targetG: 8000, at: at(39) }).value;
    const cut = forecastTarget(mine(40), { settings, model, targetG: 8000, at: at(39) }).value;
    expect(early).toEqual(cut);
  });

  it("is refused, with the reason, where the model cannot tell", () => {
    const why = (s: AnimalSeries, m: ForecastModel, targetG: number) =>
      forecastTarget(s, { settings, model: m, targetG }).value.refused?.code;
    expect(why(mine(60), model, 40000)).toBe("forecast-beyond-model");
    expect(why(mine(2), model, 8000)).toBe("forecast-few-weighings");
    expect(why(mine(60), model, 0)).toBe("forecast-target-impossible");
    const ageless = smallSeries({
      weighings: [[at(1), 2000]],
      animal: { birthDateEarliest: null, birthDateLatest: null, birthDateBasis: "unknown" },
    });
    expect(why(ageless, model, 8000)).toBe("forecast-no-age");
    const failed = {
      ...fit,
      value: { ...fit.value, population: null, status: "no-start" as const },
    };
    expect(why(mine(60), { kind: "cohort", fit: failed }, 8000)).toBe("forecast-no-cohort");
  });

  it("says so when the target is reached already", () => {
    const r = forecastTarget(mine(100), { settings, model, targetG: 3000 }).value;
    expect([r.reached, r.inDays.value]).toEqual([true, 0]);
  });

  it("rests on the animal's own curve only where that identifies the final mass", () => {
    const own: ForecastModel = { kind: "own curve", curve: "gompertz" };
    const young = forecastTarget(mine(25, 15000), { settings, model: own, targetG: 9000 }).value;
    expect(young.refused).not.toBeNull();
    const old = forecastTarget(mine(130), { settings, model: own, targetG: 12000 }).value;
    expect(old.refused).toBeNull();
    expect(Math.abs(old.inDays.value! - (ageAt(14600, 12000) - 139.25 + 0.5))).toBeLessThan(3);
  });

  it("carries a wide birth range through at both ends", () => {
    const s = mine(60);
    const wide = { ...s, age: { ...s.age, rangeDays: 10 } };
    const i = forecastTarget(s, { settings, model, targetG: 8000 }).value.inDays.interval!;
    const w = forecastTarget(wide, { settings, model, targetG: 8000 }).value.inDays.interval!;
    expect(w.upper! - w.lower!).toBeGreaterThan(i.upper! - i.lower!);
  });
});

describe("calibration by replay", () => {
  it("finds intervals about right where the model is true, and widens them where it is not", () => {
    const fresh = [14000, 14700, 15100, 15900, 15500].map((f, i) =>
      animal(`F${i}`, f, 120, 20260740 + i),
    );
    const good = calibrateForecast(fit, fresh).value;
    expect(good.animals).toBe(5);
    expect(good.coverageBefore!).toBeGreaterThan(0.85);
    // A slump of a tenth over two weeks that no growth curve foresees.
    const slumped = fresh.map((s) => ({
      ...s,
      daily: s.daily.map((d) => {
        const t = (d.at - at(40)) / (14 * day);
        return { ...d, massG: d.massG * (1 - 0.1 * Math.min(1, Math.max(0, t))) };
      }),
    }));
    const bad = calibrateForecast(fit, slumped).value;
    expect(bad.coverageBefore!).toBeLessThan(0.8);
    expect(bad.multiplier!).toBeGreaterThan(2 * good.multiplier!);
  });

  it("asks for four animals", () => {
    const r = calibrateForecast(fit, cohort.slice(0, 3));
    expect(r.value.multiplier).toBeNull();
    expect(r.notices.map((n) => n.code)).toEqual(["forecast-not-calibrated"]);
  });
});

describe("the forecast of all animals in care", () => {
  it("fits the cohort to those that have left, and leaves out animals without a target", () => {
    const left = cohort.map((s) => ({
      ...s,
      animal: { ...s.animal, outcome: "released" as const, outcomeDate: "2025-09-10" },
    }));
    const here = [mine(60), mine(60)].map((s, i) => ({
      ...s,
      animal: { ...s.animal, animalId: `N${i}` },
      daily: s.daily.map((d) => ({
        ...d,
        at: d.at + 140 * day,
        feedingDay: addDays(d.feedingDay, 140),
      })),
      weighings: [],
      age: { ...s.age, birth: s.age.birth! + 140 * day },
    }));
    const planned = {
      ...here[0]!,
      orders: ordersFrom([{ animalId: "N0", from: start, targetMassG: 8000 }]),
    };
    const study = {
      settings,
      animals: [...left, planned, here[1]!],
      scaleChecks: [],
      batches: [],
      events: [],
      notices: [],
    };
    const r = forecastAnimals(study, { species: "sea otter", at: at(199) });
    expect(r.value.cohort).toHaveLength(8);
    expect(r.value.forecasts.map((f) => f.animalId)).toEqual(["N0"]);
    expect(r.value.forecasts[0]!.likely).not.toBeNull();
    expect(r.notices.map((n) => n.code)).toContain("forecast-no-target");
  });
});
