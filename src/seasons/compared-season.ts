import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { SeasonGains } from "./season-gain.js";
import { type Spread, spreadOf } from "./spread.js";

/** One season of a comparison: who stands behind it and its gain at the common arrival. */
export interface ComparedSeason {
  readonly season: string;
  readonly n: number;
  readonly gain: Spread;
  readonly arrivalMass: Spread;
  readonly arrivalAge: Spread;
  /** Mean gain at the common arrival, g/d. */
  readonly adjusted: Measured;
}

/** Describes one season beside the model; `adjusted` is not defined where it is not in it. */
export function comparedSeason(
  gains: SeasonGains,
  season: string,
  model: AdjustedModel | null,
  level: number,
): ComparedSeason {
  const members = gains.animals.filter((a) => a.season === season);
  const i = model?.seasons.indexOf(season) ?? -1;
  const base = {
    season,
    n: members.length,
    gain: spreadOf(
      members.map((a) => a.gain),
      "g/d",
    ),
    arrivalMass: spreadOf(
      members.map((a) => a.arrivalMassG),
      "g",
    ),
    arrivalAge: spreadOf(
      members.map((a) => a.arrivalAgeD),
      "d",
    ),
  };
  if (model === null || i < 0)
    return {
      ...base,
      adjusted: notDefined(
        "g/d",
        notice("season-too-few", "caution", { season, n: members.length }),
      ),
    };
  const value = model.adjustedMeans[i]!;
  const se = adjustedErrors(model)[i]!;
  const t = studentTQuantile(1 - (1 - level) / 2, model.df);
  return {
    ...base,
    adjusted: measured(value, "g/d", {
      se,
      n: members.length,
      interval: { lower: value - t * se, upper: value + t * se, level },
    }),
  };
}

/** Standard errors of the seasons' adjusted means, g/d. */
export function adjustedErrors(model: AdjustedModel): number[] {
  return model.seasons.map((_, i) => model.residualSd * Math.sqrt(model.unscaled[i]![i]!));
}
