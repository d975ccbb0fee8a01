import { remember, rememberedOf } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import { type ChosenCurve, chooseCurve } from "../growth/choose-curve.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import { type DerivedGrowth, deriveGrowth } from "../growth/derive-growth.js";
import { type CurveDescription, describeCurve } from "../growth/describe-curve.js";
import { type CurveFit, fitCurve } from "../growth/fit-curve.js";
import { type ParameterProfile, profileParameter } from "../growth/profile-parameter.js";
import type { Study } from "../records/study.js";
import { type AnalyseOptions, analyse } from "./analyse.js";
import { animalOf, requireAnimal } from "./animal-of.js";
import { longestRecord } from "./asked-about.js";
import { curvePoints } from "./curve-points.js";
import { type CurveTrace, curveTrace } from "./curve-trace.js";
import { requireDay } from "./require-asked.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** What the page about one animal's growth curve shows. */
export interface CurveAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  readonly animal: AnimalAnalysis;
  /** Every curve of the catalogue, compared. */
  readonly choice: Result<"choose-curve", ChosenCurve>;
  /** The curve chosen; logistic where none could be. */
  readonly best: CurveFit;
  readonly description: Result<"describe-curve", CurveDescription>;
  readonly trace: CurveTrace;
  readonly derived: Result<"derive-growth", DerivedGrowth>;
  /** One a parameter; its value is null where it could not be profiled. */
  readonly profiles: readonly Result<"profile-parameter", ParameterProfile | null>[];
}

export interface AskCurveOptions extends AnalyseOptions {
  /** Id or name of the animal. Default: the one weighed on most days. */
  readonly animal?: string | null;
  /** Where no day is named: the day on which the animal had been weighed on so many days. */
  readonly afterWeighings?: number;
}

/**
 * One animal's growth curve: every curve of the catalogue, the choice in words,
 * bands, what follows from it, and how sure each parameter is.
 *
 * @throws UsageError for an animal that is not there by that day, naming the nearest.
 * @example (await askCurve(study, { animal: "O23-03" })).value.best.value.curve // "schnute"
 */
export async function askCurve(
  study: Study,
  options: AskCurveOptions = {},
): Promise<Result<"ask-curve", CurveAnswer>> {
  const { animal: named = null, afterWeighings, ...asked } = options;
  if (named !== null) requireAnimal(study, named);
  requireDay(asked.onDay, "the day asked about");
  let analysis = await analyse(study, asked);
  const find = () =>
    named === null ? longestRecord(analysis.value) : animalOf(analysis.value, named);
  let animal = find();
  const early =
    afterWeighings === undefined || asked.onDay != null
      ? undefined
      : animal.series.daily[afterWeighings - 1];
  if (early !== undefined) {
    analysis = await analyse(study, { ...asked, onDay: early.feedingDay });
    animal = animalOf(analysis.value, animal.animalId);
  }
  const { ages, masses } = curvePoints(animal.series, animal.phases);
  // The points themselves: which days count follows from phases, and they from options.
  const about = { animal: animal.animalId, onDay: analysis.value.onDay, ages, masses };
  const { choice, best, profiles } = remember(rememberedOf(study), "curve", about, () => {
    const choice = chooseCurve({ ages, masses });
    const best = fitCurve(
      { ages, masses },
      { curve: (choice.value.chosen ?? "logistic") as CurveName },
    );
    return {
      choice,
      best,
      profiles: best.value.estimates.map((each) => profileParameter(best, each.name)),
    };
  });
  return {
    kind: "ask-curve",
    schema: 1,
    value: {
      analysis,
      animal,
      choice,
      best,
      description: describeCurve(best),
      trace: curveTrace(best),
      derived: deriveGrowth(best),
      profiles,
    },
    method: choice.method,
    basis: choice.basis,
    diagnostics: {},
    notices: best.notices,
  };
}
