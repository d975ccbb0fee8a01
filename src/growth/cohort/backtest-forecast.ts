import { type Measured, notDefined } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { Result } from "../../core/result.js";
import type { AnimalHistory } from "./animal-history.js";
import { type FitCohortOptions, fitCohort } from "./fit-cohort.js";
import { predictForNewAnimal } from "./predict-new-animal.js";

export interface BacktestForecastOptions extends FitCohortOptions {
  /** Days since the animal's first weighing at which it is forecast. */
  readonly after: readonly number[];
  /** How far ahead, days. Default 7. */
  readonly aheadD?: number;
}

export interface ReplayedForecast {
  readonly animal: string;
  readonly animalsInCohort: number;
  readonly rows: readonly {
    readonly afterD: number;
    readonly weighings: number;
    /** Age forecast for, and the mass expected there with the interval for the next reading. */
    readonly age: number;
    readonly expected: Measured;
    /** The weighing nearest that age, within a day and a half; null where there is none. */
    readonly weighedG: number | null;
  }[];
}

/**
 * What would have been forecast for one animal as its weighings arrived: the
 * cohort is fitted without it, and it is forecast from its own first days only.
 *
 * @example backtestForecast(histories, "P07", { curve: "gompertz", after: [1, 3, 7, 14] })
 */
export function backtestForecast(
  histories: readonly AnimalHistory[],
  animal: string,
  options: BacktestForecastOptions,
): Result<"backtest-forecast", ReplayedForecast> {
  const { after, aheadD = 7, ...rest } = options;
  const others = histories.filter((h) => h.animal !== animal);
  const own = histories.find((h) => h.animal === animal);
  const fit = fitCohort(others, rest);
  const rows = own === undefined ? [] : sorted(own);
  const first = rows[0]?.age ?? 0;
  return {
    kind: "backtest-forecast",
    schema: 1,
    value: {
      animal,
      animalsInCohort: fit.value.animals.length,
      rows: after.map((afterD) => {
        const seen = rows.filter((r) => r.age <= first + afterD);
        const age = first + afterD + aheadD;
        // Where the others carry no curve there is nothing to forecast with, and the fit says why.
        const result =
          fit.value.population === null
            ? null
            : predictForNewAnimal(
                fit,
                { ages: seen.map((r) => r.age), masses: seen.map((r) => r.mass) },
                { at: [age], intervalFor: "next reading" },
              );
        const nearest = rows
          .filter((r) => Math.abs(r.age - age) <= 1.5)
          .sort((a, b) => Math.abs(a.age - age) - Math.abs(b.age - age))[0];
        return {
          afterD,
          weighings: seen.length,
          age,
          expected:
            result?.value.predictions[0]?.mass ??
            notDefined(
              "g",
              notice("cohort-animal-not-settled", "caution", { weighings: seen.length }),
            ),
          weighedG: nearest?.mass ?? null,
        };
      }),
    },
    method: { name: "Forecast of a left-out animal", options: { ...options }, citations: [] },
    basis: { used: rows.length, leftOut: [], of: "weighings" },
    diagnostics: {},
    notices: fit.notices,
  };
}

function sorted(history: AnimalHistory): { age: number; mass: number }[] {
  return history.ages
    .map((age, i) => ({ age, mass: history.masses[i]! }))
    .sort((a, b) => a.age - b.age);
}
