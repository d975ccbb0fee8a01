import type { CurveAnswer } from "../../analysis/ask-curve.js";
import type { Chart } from "../../charts/chart.js";
import { onOneScale } from "../../charts/on-one-scale.js";
import { rowsNotUsed } from "../records/rows-not-used.js";
import { animalLabel } from "../section/animal-label.js";
import type { Block } from "../section/section.js";
import { withNames } from "../section/with-names.js";
import { curveChoiceTable, derivedGrowthTable } from "./curve-choice-table.js";
import { curvesTable } from "./curves-table.js";
import { fitPicture, profilePicture, residualPicture } from "./fit-pictures.js";
import { gainPicture } from "./gain-picture.js";
import { growthCurvePicture } from "./growth-curve-picture.js";

type Part = readonly (Block | Chart)[];

/** The parts of the page about one animal's curve; each can be shown by itself. */
export interface CurvePage {
  readonly records: Part;
  /** The animal's usual curves as `analyse` fits them. */
  readonly curves: Part;
  readonly choice: Part;
  readonly inWords: Part;
  /** The band of the curve, and the band of a weighing. */
  readonly bands: Part;
  readonly residuals: Part;
  readonly gain: Part;
  readonly derived: Part;
  /** One picture a parameter that could be profiled. */
  readonly profiles: Part;
}

/**
 * One animal's curve as parts to show.
 *
 * @example curvePage((await askCurve(study, { animal: "O23-03" })).value).bands.length // 2
 */
export function curvePage(answer: CurveAnswer): CurvePage {
  const { animal, best, trace } = answer;
  const analysis = answer.analysis.value;
  const name = animalLabel(animal);
  const [grown, curve, weighing] = onOneScale("Mass (g)", [
    (options) => growthCurvePicture(animal, options),
    (options) => fitPicture(name, best, trace, "curve", options),
    (options) => fitPicture(name, best, trace, "weighing", options),
  ]) as readonly [Chart, Chart, Chart];
  const page: CurvePage = {
    records: [rowsNotUsed(analysis)],
    curves: [grown, curvesTable(animal)],
    choice: [curveChoiceTable(answer.choice)],
    inWords: [
      { kind: "notices", notices: answer.description.value.lines },
      ...(best.notices.length === 0 ? [] : [{ kind: "notices", notices: best.notices } as const]),
    ],
    bands: [curve, weighing],
    residuals: [residualPicture(name, best)],
    gain: [gainPicture(analysis, animal)],
    derived: [derivedGrowthTable(answer.derived)],
    profiles: answer.profiles.flatMap((each) => profilePicture(each) ?? []),
  };
  return withNames(page, analysis);
}
