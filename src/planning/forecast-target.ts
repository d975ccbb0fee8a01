import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, CivilDate } from "../series/animal-series.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { civilDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { type Forecast, forecastAt } from "./forecast-at.js";
import type { ForecastOptions } from "./forecast-options.js";
import { type ForecastPoint, forecastPath } from "./forecast-path.js";

export interface TargetForecast {
  readonly animalId: string;
  readonly targetG: number;
  readonly madeOn: CivilDate;
  readonly reached: boolean;
  /** Days from `at` to the target; the upper end is null where the model does not see it come. */
  readonly inDays: Measured;
  readonly earliest: CivilDate | null;
  readonly likely: CivilDate | null;
  readonly latest: CivilDate | null;
  /** Why there is no forecast. */
  readonly refused: Notice | null;
  readonly backtest: ForecastBacktest | null;
  /** Expected mass from the day it is made to the target or as far as the model reaches. */
  readonly path: readonly ForecastPoint[];
}

/** What would have been forecast earlier for the day on which this one is made. */
export interface ForecastBacktest {
  readonly madeOn: CivilDate;
  readonly aheadD: number;
  readonly forecastG: Measured;
  readonly actualG: number;
  readonly errorG: number;
  readonly inside: boolean;
  /** The day then given for the target; null where it would have been refused. */
  readonly likely: CivilDate | null;
}

/**
 * The date on which an animal reaches a target mass, from the cohort model given
 * its own weighings so far (or, failing a cohort, from its own fitted curve),
 * with an interval: from the day the upper limit of its expected mass reaches the
 * target to the day the lower limit does. Refused, with the reason, when the
 * model cannot tell: no converged fit, a final mass that is not identified, a
 * target beyond the ages the model has seen. What would have been forecast 14
 * days earlier stands beside it. A birth range over 3 days is carried through at
 * both ends. An animal that is part of the cohort fit helps to forecast itself;
 * a notice says so.
 *
 * @example forecastTarget(series, { settings, model: { kind: "cohort", fit }, targetG: 9000 }).value.likely // "2025-08-14"
 */
export function forecastTarget(
  series: AnimalSeries,
  options: ForecastOptions,
): Result<"forecast-target", TargetForecast> {
  const { settings, model, targetG } = options;
  const level = options.level ?? 0.95;
  const backtestD = options.backtestD ?? 14;
  const at = options.at ?? series.daily.at(-1)?.at ?? 0;
  const animal = series.animal.animalId;
  const notices: Notice[] = [];
  if (model.kind === "cohort" && model.fit.value.animals.some((a) => a.animal === animal)) {
    notices.push(notice("forecast-animal-in-cohort", "info", { animal }));
  }
  const run = (when: number) => forecastAt(series, options, when, level);
  const now = run(at);
  if (now.refused !== null) notices.push(now.refused);
  const day = (age: number | null) =>
    age === null || series.age.birth === null
      ? null
      : civilDayOf(series.age.birth + age * dayMs, settings.zone);
  const ageNow = series.age.birth === null ? 0 : (at - series.age.birth) / dayMs;
  const inDays: Measured =
    now.refused !== null
      ? notDefined("d", now.refused)
      : measured(Math.max(0, now.likely! - ageNow), "d", {
          n: now.weighings,
          interval: {
            lower: Math.max(0, (now.earliest ?? ageNow) - ageNow),
            upper: now.latest === null ? null : Math.max(0, now.latest - ageNow),
            level,
          },
        });
  return {
    kind: "forecast-target",
    schema: 1,
    value: {
      animalId: animal,
      targetG,
      madeOn: civilDayOf(at, settings.zone),
      reached: now.reached,
      inDays,
      earliest: day(now.earliest),
      likely: day(now.likely),
      latest: day(now.latest),
      refused: now.refused,
      path: forecastPath(now, ageNow),
      backtest: backtest(series, at, ageNow, backtestD, level, run, day, settings.zone),
    },
    method: {
      name: model.kind === "cohort" ? "Cohort model given the animal's weighings" : "Own curve",
      options: {
        targetG,
        at,
        level,
        backtestD,
        model: model.kind,
        curve: model.kind === "cohort" ? model.fit.value.curve : model.curve,
        multiplier: model.kind === "cohort" ? (model.multiplier ?? null) : null,
      },
      citations: [],
    },
    basis: { used: now.weighings, leftOut: [], of: "weighed days" },
    diagnostics: {},
    notices,
  };
}

function backtest(
  series: AnimalSeries,
  at: number,
  ageNow: number,
  aheadD: number,
  level: number,
  run: (when: number) => Forecast,
  day: (age: number | null) => CivilDate | null,
  zone: string,
): ForecastBacktest | null {
  const then = run(at - aheadD * dayMs);
  const actualG = smoothedMassAt(series, at, { upTo: at }).value;
  const e = then.expect?.(ageNow) ?? null;
  if (e === null || "code" in e || actualG === null) return null;
  return {
    madeOn: civilDayOf(at - aheadD * dayMs, zone),
    aheadD,
    forecastG: measured(e.mass, "g", {
      interval: { lower: e.lower, upper: e.upper, level },
      n: then.weighings,
    }),
    actualG,
    errorG: e.mass - actualG,
    inside: actualG >= e.lower && actualG <= e.upper,
    likely: day(then.likely),
  };
}
