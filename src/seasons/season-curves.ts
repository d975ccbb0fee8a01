import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { type Adjustment, adjustments, fitAdjustedModel } from "./adjusted-model.js";
import { fitSeasonCurves } from "./fit-season-curves.js";
import type { AgeWindow } from "./gain-window.js";
import type { CurveDifference, SeasonCurve } from "./season-curve.js";
import { enoughAnimals, type SeasonGainOptions, seasonGains } from "./season-gain.js";

export interface SeasonCurvesOptions extends Omit<SeasonGainOptions, "birth" | "window"> {
  readonly window: AgeWindow;
  /** Days between the ages at which curves are given. Default 7. */
  readonly stepD?: number;
  readonly level?: number;
}

export interface SeasonCurves {
  readonly species: string;
  readonly window: AgeWindow;
  readonly curves: readonly SeasonCurve[];
  readonly differences: readonly CurveDifference[];
  /** What the curves are adjusted for and the arrival at which they stand; null without a fit. */
  readonly model: {
    readonly used: readonly Adjustment[];
    readonly atArrivalMassG: number;
    readonly atArrivalAgeD: number | null;
    readonly dfMethod: string;
  } | null;
  readonly status: "converged" | "not converged" | "failed";
  readonly sentences: readonly Notice[];
}

/**
 * Mean growth curves of the seasons at a common arrival, and their differences:
 * a mixed model of ln mass with a cubic in age for each season, the adjustments
 * and their products with age, and for each animal its own level and rate. A
 * picture of where seasons part; the decision rests on `compareSeasons`, whose
 * animals it uses. Intervals hold for each age by itself, not for all at once.
 *
 * Laird NM, Ware JH (1982) Biometrics 38:963-974. Null value where fewer than two
 * seasons have three animals.
 *
 * @example seasonCurves(study, { species: "sea otter", window: { fromAgeD: 21, toAgeD: 84 } }).value.curves[0]
 */
export function seasonCurves(
  study: StudySeries,
  options: SeasonCurvesOptions,
): Result<"season-curves", SeasonCurves> {
  const level = options.level ?? 0.95;
  const gains = seasonGains(study, options);
  const enough = enoughAnimals(gains);
  const animals = gains.animals.filter((a) => enough.includes(a.season));
  const model = enough.length === 0 ? null : fitAdjustedModel(animals, enough, adjustments);
  const fitted =
    model === null
      ? null
      : fitSeasonCurves(animals, model, options.window, options.stepD ?? 7, level);
  return {
    kind: "season-curves",
    schema: 1,
    value: {
      species: gains.species,
      window: options.window,
      curves: fitted?.curves ?? [],
      differences: fitted?.differences ?? [],
      model:
        model === null || fitted === null
          ? null
          : {
              used: model.used,
              atArrivalMassG: model.at.arrivalMassG,
              atArrivalAgeD: model.at.arrivalAgeD,
              dfMethod: fitted.dfMethod,
            },
      status: fitted?.status ?? "failed",
      sentences: fitted === null ? [] : [notice("season-curves-picture", "info")],
    },
    method: {
      name: "Cubic in age by season, ln mass, linear mixed model",
      options: {
        species: gains.species,
        window: options.window,
        stepD: options.stepD ?? 7,
        level,
        adjusted: model?.used ?? [],
      },
      citations: ["Laird NM, Ware JH (1982) Biometrics 38:963-974"],
    },
    basis: {
      used: animals.length,
      leftOut: [{ reason: "window not complete or age unusable", count: gains.leftOut.length }],
      of: "animals",
    },
    diagnostics: { residualSd: fitted?.sigma ?? null },
    notices: [],
  };
}
