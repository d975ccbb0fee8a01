import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { observationsChart } from "../../charts/observations-chart.js";
import { dayMs } from "../../units/day-ms.js";
import { animalLabel } from "../tables/animal-label.js";

/** Kinds drawn as numbers in panels of their own, or too many to mark. */
const notMarked = new Set(["temperature", "groom", "swim"]);

/** One animal's mass, intake, temperature and what was seen, on one time axis. */
export function timelinePicture(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: { readonly days?: number } = {},
): Chart {
  const end = animal.series.span?.to ?? 0;
  const from = options.days === undefined ? Number.NEGATIVE_INFINITY : end - options.days * dayMs;
  const recent = <Row extends { readonly at: number }>(rows: readonly Row[]) =>
    rows.filter((row) => row.at >= from);
  const { observations } = animal.series;
  return observationsChart({
    name: animalLabel(animal),
    zone: analysis.settings.zone,
    masses: recent(animal.series.daily).map((d) => ({ at: d.at, massG: d.massG })),
    intake: animal.intake.value
      .filter((d) => d.from >= from && d.complete && d.feeds > 0 && d.eatenG.value !== null)
      .map((d) => ({ at: (d.from + d.to) / 2, value: d.eatenG.value! })),
    temperatures: recent(observations)
      .filter((o) => o.kind === "temperature" && o.value !== null)
      .map((o) => ({ at: o.at, value: o.value! })),
    observations: recent(observations)
      .filter((o) => !notMarked.has(o.kind))
      .map((o) => ({ at: o.at, kind: o.kind, words: o.valueText ?? o.notes })),
  });
}
