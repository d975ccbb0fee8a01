import type { Chart } from "../../charts/chart.js";
import { contemporariesChart } from "../../charts/contemporaries-chart.js";
import { intervalChart } from "../../charts/interval-chart.js";
import type { Result } from "../../core/result.js";
import type { CohortFit } from "../../growth/cohort/cohort-fit.js";
import type { CohortGains } from "../../growth/cohort/cohort-gains.js";
import type { PredictedAnimal } from "../../growth/cohort/predict-new-animal.js";

/** The typical animal's curve over each animal's own, drawn towards the cohort. */
export function cohortCurvesPicture(
  fit: CohortFit,
  typical: Result<string, PredictedAnimal>,
): Chart {
  return contemporariesChart(
    {
      animal: {
        name: "typical animal",
        points: typical.value.predictions.flatMap((p) =>
          p.mass.value === null ? [] : [{ day: p.age, massG: p.mass.value }],
        ),
      },
      others: fit.value.animals.map((a) => ({
        name: a.animal,
        points: a.ages.map((day, i) => ({ day, massG: a.fitted[i]! })),
      })),
      othersAre:
        "each animal's own curve, drawn towards the cohort as far as its weighings leave room",
    },
    { title: `The cohort's ${fit.value.curve} curve and each animal's own` },
  );
}

/** Each animal's mean gain over a range of ages with its interval, slowest at the bottom. */
export function cohortGainsPicture(gains: Result<string, CohortGains>): Chart {
  const { from, to, typical, animals } = gains.value;
  return intervalChart({
    title: `Mean gain from ${from} to ${to} days of age`,
    valueTitle: "Mean gain (g/d)",
    of: "animal",
    intervalIs: "95 % interval; dashed line: the typical animal",
    order: "value",
    ...(typical.value === null ? {} : { reference: typical.value }),
    rows: animals.map(({ animal, gain }) => ({
      name: animal,
      value: gain.value,
      lower: gain.interval?.lower ?? null,
      upper: gain.interval?.upper ?? null,
    })),
  });
}
