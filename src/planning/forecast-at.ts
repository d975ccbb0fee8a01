import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { dayMs } from "../units/day-ms.js";
import { crossings, type Expect, expectation } from "./forecast-expectation.js";
import type { ForecastOptions } from "./forecast-options.js";

/** What one moment's data say about the target. Ages in days. */
export interface Forecast {
  readonly weighings: number;
  readonly reached: boolean;
  readonly earliest: number | null;
  readonly likely: number | null;
  readonly latest: number | null;
  readonly refused: Notice | null;
  readonly expect: Expect | null;
  /** Age up to which the model may be asked; null without one. */
  readonly horizon: number | null;
}

/**
 * The ages at which the target is reached, from data up to an instant, or why they
 * cannot be told. A birth range over 3 days is carried through at both ends.
 */
export function forecastAt(
  series: AnimalSeries,
  options: ForecastOptions,
  at: number,
  level: number,
): Forecast {
  const { targetG, model } = options;
  const animal = series.animal.animalId;
  const rows = series.daily.filter(
    (d) => d.at <= at && d.ageD !== null && d.at >= (options.from ?? -Infinity),
  );
  const nothing = {
    weighings: rows.length,
    reached: false,
    earliest: null,
    likely: null,
    latest: null,
    expect: null,
    horizon: null,
  };
  const refuse = (why: Notice): Forecast => ({ ...nothing, refused: why });
  if (series.age.birth === null || !series.age.usableForWeightForAge) {
    return refuse(notice("forecast-no-age", "caution", { animal }));
  }
  if (!(targetG > 0))
    return refuse(notice("forecast-target-impossible", "problem", { target: targetG }));
  if (rows.length < 3)
    return refuse(notice("forecast-few-weighings", "caution", { animal, n: rows.length }));
  const mass = smoothedMassAt(series, at, { upTo: at }).value;
  const ageNow = (at - series.age.birth) / dayMs;
  // Both ends of a wide birth range: the animal may be that much younger or older.
  const range = series.age.rangeDays ?? 0;
  const shifts = range > 3 ? [-range / 2, 0, range / 2] : [0];
  const runs = shifts.map((shift) => {
    const ages = rows.map((r) => r.ageD! + shift);
    const built = expectation(
      model,
      ages,
      rows.map((r) => r.massG),
      level,
    );
    if ("code" in built) return built;
    const crossing = crossings(built.expect, ageNow + shift, built.horizon, targetG);
    return "code" in crossing ? crossing : { built, crossing, shift };
  });
  const middle = runs[Math.floor(runs.length / 2)]!;
  if (mass !== null && mass >= targetG) {
    const built = "code" in middle ? null : middle.built;
    return {
      ...nothing,
      reached: true,
      earliest: ageNow,
      likely: ageNow,
      latest: ageNow,
      refused: null,
      expect: built?.expect ?? null,
      horizon: built?.horizon ?? null,
    };
  }
  if ("code" in middle) return refuse(middle);
  const { expect, horizon } = middle.built;
  if (middle.crossing.likely === null) {
    const why = notice("forecast-beyond-model", "caution", { animal, target: targetG, horizon });
    return { ...nothing, refused: why, expect, horizon };
  }
  const unshifted = (pick: "earliest" | "latest") =>
    runs.map((r) => {
      const age = "code" in r ? null : r.crossing[pick];
      return age === null || "code" in r ? null : age - r.shift;
    });
  const early = unshifted("earliest").filter((a): a is number => a !== null);
  const late = unshifted("latest");
  return {
    ...nothing,
    earliest: early.length === 0 ? null : Math.min(...early),
    likely: middle.crossing.likely,
    latest: late.some((a) => a === null) ? null : Math.max(...late.map((a) => a!)),
    refused: null,
    expect,
    horizon,
  };
}
