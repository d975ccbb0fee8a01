import type { StudySeries } from "../series/animal-series.js";
import { type AdjustedModel, type Adjustment, fitAdjustedModel } from "./adjusted-model.js";
import { isAgeWindow } from "./gain-window.js";
import { type SeasonGainOptions, seasonGains } from "./season-gain.js";

/** The model with births at both ends of their ranges, where any range exceeds 3 days. */
export function birthRangeModels(
  study: StudySeries,
  options: SeasonGainOptions,
  seasons: readonly string[],
  asked: readonly Adjustment[],
): { readonly n: number; readonly models: readonly AdjustedModel[] } {
  if (!isAgeWindow(options.window)) return { n: 0, models: [] };
  const wide = study.animals.filter(
    (a) =>
      a.animal.species === options.species &&
      a.animal.season !== null &&
      seasons.includes(a.animal.season) &&
      a.age.usableForWeightForAge &&
      (a.age.rangeDays ?? 0) > 3,
  ).length;
  if (wide === 0) return { n: 0, models: [] };
  const models = (["earliest", "latest"] as const).flatMap((birth) => {
    const at = seasonGains(study, { ...options, birth });
    const usable = at.animals.filter((a) => seasons.includes(a.season));
    return fitAdjustedModel(usable, seasons, asked) ?? [];
  });
  return { n: wide, models };
}
