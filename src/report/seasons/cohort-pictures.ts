import { averageCurveChart } from "../../charts/average-curve-chart.js";
import type { Chart } from "../../charts/chart.js";
import { contemporariesChart } from "../../charts/contemporaries-chart.js";
import { intervalChart } from "../../charts/interval-chart.js";
import type { Result } from "../../core/result.js";
import type { CohortFit } from "../../growth/cohort/cohort-fit.js";
import type { CohortGains } from "../../growth/cohort/cohort-gains.js";
import type { CohortMeanCurve } from "../../growth/cohort/cohort-mean-curve.js";
import type { PredictedAnimal } from "../../growth/cohort/predict-new-animal.js";
import { massBand } from "../animal/mass-band.js";
import { curveWords } from "../section/curve-words.js";

/** The typical animal's curve over each animal's own, drawn towards the cohort. */
export function cohortCurvesPicture(
  fit: CohortFit,
  typical: Result<string, PredictedAnimal>,
): Chart {
  const others = fit.value.animals.map((a) => ({
    name: a.animal,
    points: a.ages.map((day, i) => ({ day, massG: a.fitted[i]! })),
  }));
  return contemporariesChart(
    {
      isCurve: true,
      animal: {
        name: "typical animal",
        points: typical.value.predictions.flatMap((p) =>
          p.mass.value === null ? [] : [{ day: p.age, massG: p.mass.value }],
        ),
      },
      others,
      band: massBand(others),
      othersAre:
        "each animal's own curve, drawn towards the cohort as far as its weighings leave room",
      caption: `Curve of the typical animal over those of n = ${fit.value.animals.length} animals; band: 9 in 10 and the middle half of the animals' own curves, each drawn towards the cohort as far as its weighings leave room.`,
    },
    { title: `The cohort's ${curveWords(fit.value.curve)} curve and each animal's own` },
  );
}

/** The averaged curve (mass, or gain) with its interval, the typical animal's and the band of animals. */
export function cohortAveragePicture(
  mean: Result<string, CohortMeanCurve>,
  of: "mass" | "gain" = "mass",
): Chart {
  const { ages, band } = mean.value;
  const [low, high] = band.map((share) => 100 * share);
  return averageCurveChart({
    title:
      of === "mass"
        ? "What animals weigh on average, and what the typical animal weighs"
        : "What animals gain on average, and what the typical animal gains",
    of,
    animals: mean.basis.used,
    bandIs: `${high! - low!} % of animals (${low}th to ${high}th centile at each age)`,
    intervalIs: `${Math.round(100 * (ages[0]?.mass.average.interval?.level ?? 0.95))} % interval of the averaged curve`,
    points: ages.flatMap((each) => {
      const { average, typical, animals } = each[of];
      if (average.value === null || typical.value === null) return [];
      return [
        {
          day: each.age,
          average: average.value,
          lower: average.interval?.lower ?? null,
          upper: average.interval?.upper ?? null,
          typical: typical.value,
          animalsLower: animals.lower.value,
          animalsUpper: animals.upper.value,
        },
      ];
    }),
  });
}

/**
 * Each animal's mean gain over a range of ages with its interval, slowest at the
 * bottom, against the cohort's mean gain (or, without it, the typical animal's).
 */
export function cohortGainsPicture(
  gains: Result<string, CohortGains>,
  mean?: Result<string, CohortMeanCurve>,
  nameOf: (animalId: string) => string = (animalId) => animalId,
): Chart {
  const { from, to, typical, animals } = gains.value;
  const average = mean?.value.gainOver.gain.average;
  const reference = average ?? typical;
  return intervalChart({
    title: `Mean gain from ${from} to ${to} days of age`,
    valueTitle: "Mean gain (g/d)",
    of: "animal",
    intervalIs: `95 % interval; dashed line: ${average === undefined ? "the typical animal" : "the average of the fitted cohort"}`,
    order: "value",
    ...(reference.value === null ? {} : { reference: reference.value }),
    rows: animals.map(({ animal, gain }) => ({
      animalId: animal,
      name: nameOf(animal),
      value: gain.value,
      lower: gain.interval?.lower ?? null,
      upper: gain.interval?.upper ?? null,
    })),
  });
}
