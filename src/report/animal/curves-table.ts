import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { FittedParameter } from "../../growth/fit-curve.js";
import { screenWording } from "../../units/format.js";
import { count, formatNumber } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { curveWords } from "../section/curve-words.js";
import { say } from "../section/say.js";
import { type Cell, type Table, table } from "../section/section.js";

/**
 * The curves fitted to one animal, one row per parameter, with standard error,
 * why the fit stopped, and in words whether the data tell the parameter.
 */
export function curvesTable(animal: AnimalAnalysis): Table {
  const rows = animal.curves.flatMap(({ fit, finalOverLargest }): (readonly Cell[])[] => {
    const { value } = fit;
    const words = fit.notices
      .filter((n) => n.level !== "info")
      .map((n) => noticeText(n, screenWording()));
    return value.estimates.map((p, i) => [
      i === 0 ? curveWords(value.curve) : "",
      `${p.name}: ${p.meaning}`,
      p.estimate,
      toldBy(p, finalOverLargest),
      i === 0 ? value.aicc : null,
      i === 0 ? say("curve-stopped", { stop: value.stop }) : "",
      i === 0 ? words.join(" ") : "",
    ]);
  });
  const n = animal.curves[0]?.fit.basis.used ?? 0;
  return table(
    "curves",
    [
      `Growth curves of ${animalLabel(animal)}, ${count(n, "daily mass", "daily masses")}. Lower AICc is better among curves fitted to the same masses.`,
      ...animal.curveChoice.explanation.map((each) => noticeText(each, screenWording())),
    ].join(" "),
    [
      { title: "Curve" },
      { title: "Parameter" },
      { title: "Estimate", align: "number", digits: 4 },
      { title: "Told by the data" },
      { title: "AICc", align: "number", digits: 5 },
      { title: "Stopped because" },
      { title: "Remarks" },
    ],
    rows,
    "No curve was fitted.",
  );
}

/** A final mass far above every mass weighed is told by the form of the curve, not by the data. */
function toldBy(p: FittedParameter, finalOverLargest: number | null): string {
  if (!p.identified) return "no";
  if (p.name !== "A" || finalOverLargest === null || finalOverLargest <= 1.5) return "yes";
  return `only by the form of the curve: ${formatNumber(finalOverLargest, 2)} times the largest mass weighed`;
}
