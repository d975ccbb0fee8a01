import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { Chart, ChartOptions } from "../../charts/chart.js";
import { growthCurveChart } from "../../charts/growth-curve-chart.js";
import { animalLabel } from "../section/animal-label.js";
import { curveWords } from "../section/curve-words.js";
import { withMethod } from "../section/with-method.js";
import { history } from "./masses-picture.js";

/**
 * One animal's daily masses and the curves that converged, the one with the
 * lowest AICc first and with its 95 % confidence band. Masses left out of the
 * fit are drawn hollow.
 */
export function growthCurvePicture(animal: AnimalAnalysis, options: ChartOptions = {}): Chart {
  const used = new Set(animal.curves[0]?.fit.value.points.ages ?? []);
  const curves = animal.curves
    .filter((c) => c.trace.points.length > 0)
    .sort((a, b) => (a.fit.value.aicc ?? Infinity) - (b.fit.value.aicc ?? Infinity))
    .map((c) => ({
      name: curveWords(c.fit.value.curve),
      points: c.trace.points.map((p) => ({
        day: p.age,
        massG: p.mass,
        lower: p.curveLow,
        upper: p.curveHigh,
      })),
    }));
  const chart = growthCurveChart(
    {
      name: animalLabel(animal),
      points: history(animal).points.map((p) => ({ ...p, used: used.has(p.day) })),
      curves,
      bandIs: `95 % confidence band of the ${curves[0]?.name ?? ""} curve`,
      dayTitle: animal.series.age.birth === null ? "Days since admission" : "Age (days)",
    },
    { ...options, title: `Growth of ${animalLabel(animal)}` },
  );
  return withMethod(chart, "fit");
}
