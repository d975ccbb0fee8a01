import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { intakeChart } from "../../charts/intake-chart.js";
import { animalLabel } from "../section/animal-label.js";
import { withMethod } from "../section/with-method.js";

/** One animal's intake, feeding day by feeding day; a range where a refusal is unknown. */
export function intakePicture(
  animal: AnimalAnalysis,
  options: { readonly days?: number } = {},
): Chart {
  const complete = animal.intake.value.filter((d) => d.complete && d.feeds > 0);
  const shown = options.days === undefined ? complete : complete.slice(-options.days);
  const chart = intakeChart({
    name: animalLabel(animal),
    days: shown.map((d) => ({
      day: d.feedingDay,
      gPerDay: d.eatenG.value,
      lowG: d.eatenG.low,
      highG: d.eatenG.high,
      kcalPerDay: d.kcal.value,
      percentOfMass: d.shareOfMassPct?.value ?? null,
    })),
  });
  return withMethod(chart, "intake");
}
