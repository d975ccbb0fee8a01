import { type Notice, notice } from "../core/notice.js";
import type { CohortFit } from "../growth/cohort/cohort-fit.js";
import { followNewAnimal } from "../growth/cohort/predict-new-animal.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import { fitCurve } from "../growth/fit-curve.js";
import { predictMass } from "../growth/predict-growth.js";

/** What the forecast rests on: a cohort model, or failing one the animal's own curve. */
export type ForecastModel =
  | {
      readonly kind: "cohort";
      readonly fit: CohortFit;
      readonly covariates?: Readonly<Record<string, string | number>>;
      /** Half width of the interval in standard errors, from `calibrateForecast`. Default: Student's t. */
      readonly multiplier?: number;
    }
  | { readonly kind: "own curve"; readonly curve: CurveName };

/** Expected mass with its limits at an age, or why there is none. */
export type Expect = (age: number) => { mass: number; lower: number; upper: number } | Notice;

/** The expectation of one animal given its weighings, and the age up to which it may be asked. */
export function expectation(
  model: ForecastModel,
  ages: readonly number[],
  masses: readonly number[],
  level: number,
): { readonly expect: Expect; readonly horizon: number } | Notice {
  if (model.kind === "cohort") {
    const { value } = model.fit;
    if (value.population === null)
      return notice("forecast-no-cohort", "caution", { status: value.status });
    const missing = value.covariates
      .map((c) => c.name)
      .filter((name) => model.covariates?.[name] === undefined);
    if (missing.length > 0) return notice("forecast-no-covariate", "caution", { missing });
    const one = followNewAnimal(
      model.fit,
      model.covariates === undefined ? {} : { covariates: model.covariates },
    );
    ages.forEach((age, i) => {
      one.weigh(age, masses[i]!);
    });
    const { multiplier } = model;
    const expect: Expect = (age) => {
      const e = one.expect(age, { level });
      const half = (multiplier ?? 0) * e.se;
      return multiplier === undefined
        ? e
        : { mass: e.mass, lower: e.mass - half, upper: e.mass + half };
    };
    return { expect, horizon: value.ages.to };
  }
  const fit = fitCurve({ ages, masses }, { curve: model.curve });
  const first = ages[0]!;
  const last = ages.at(-1)!;
  const expect: Expect = (age) => {
    const { mean } = predictMass(fit, age, { level });
    if (mean.value === null)
      return mean.why ?? notice("forecast-no-cohort", "caution", { status: fit.value.status });
    return {
      mass: mean.value,
      lower: mean.interval?.lower ?? -Infinity,
      upper: mean.interval?.upper ?? Infinity,
    };
  };
  // No further ahead than half of what has been seen.
  return { expect, horizon: last + (last - first) / 2 };
}

/** Ages at which the upper limit, the expectation and the lower limit reach the target. */
export function crossings(
  expect: Expect,
  fromAge: number,
  horizon: number,
  targetG: number,
): { earliest: number | null; likely: number | null; latest: number | null } | Notice {
  const found: { earliest: number | null; likely: number | null; latest: number | null } = {
    earliest: null,
    likely: null,
    latest: null,
  };
  const step = 0.25;
  type Step = { age: number; upper: number; mass: number; lower: number };
  let last: Step | null = null;
  for (let age = fromAge; age <= horizon + 1e-9; age += step) {
    const e = expect(age);
    if ("code" in e) return e;
    const here: Step = { age, ...e };
    const before: Step | null = last;
    const cross = (key: "upper" | "mass" | "lower") => {
      if (here[key] < targetG) return null;
      if (before === null || before[key] >= targetG) return age;
      return before.age + (step * (targetG - before[key])) / (here[key] - before[key]);
    };
    found.earliest ??= cross("upper");
    found.likely ??= cross("mass");
    found.latest ??= cross("lower");
    if (found.latest !== null) break;
    last = here;
  }
  return found;
}
