import { type Notice, notice } from "../core/notice.js";
import type { AdjustedModel } from "./adjusted-model.js";
import { isAgeWindow } from "./gain-window.js";
import type { SeasonGains } from "./season-gain.js";
import type { SeasonPair } from "./season-pair.js";
import type { SlopeCheck } from "./slope-check.js";

/**
 * The answer of a comparison of seasons in words, up to what it means for a
 * protocol: who is too few, what is compared, the pairs, and what limits them.
 */
export function comparisonSentences(
  gains: SeasonGains,
  model: AdjustedModel | null,
  few: readonly string[],
  /** Animals whose birth range made a second and third fit necessary. */
  wideBirths: number,
  pairs: readonly SeasonPair[],
  slopes: SlopeCheck | null,
): Notice[] {
  const died = gains.leftOut.filter((l) => l.why.code === "season-died-before-end").length;
  const n = (season: string) => gains.animals.filter((a) => a.season === season).length;
  return [
    ...few.map((season) => notice("season-too-few", "caution", { season, n: n(season) })),
    ...(model === null ? [] : [estimand(gains, model)]),
    ...(model?.dropped ?? [])
      .filter((d) => d.why !== "not asked for")
      .map((d) =>
        notice("season-adjustment-dropped", "info", { adjustment: d.adjustment, why: d.why }),
      ),
    ...(isAgeWindow(gains.window) ? [] : [notice("season-mass-window", "caution")]),
    ...(wideBirths > 0 ? [notice("season-birth-range", "caution", { n: wideBirths })] : []),
    ...sentencesOfPairs(pairs),
    ...(slopes !== null && slopes.p < 0.05
      ? [notice("season-slopes-differ", "caution", { p: slopes.p })]
      : []),
    ...(died > 0 ? [notice("season-survivors-only", "caution", { died })] : []),
  ];
}

function estimand(gains: SeasonGains, model: AdjustedModel): Notice {
  return model.used.length === 0
    ? notice("season-unadjusted", "info", { species: gains.species })
    : notice("season-estimand", "info", {
        species: gains.species,
        ...gains.window,
        mass: model.at.arrivalMassG,
        adjusted: model.used,
      });
}

/** From this many pairs on, those without a shown difference share one sentence. */
const MANY_PAIRS = 4;

/** With many pairs, what could have been found is said once, for the largest difference. */
function sentencesOfPairs(pairs: readonly SeasonPair[]): Notice[] {
  const size = (p: SeasonPair) => Math.abs(p.difference.value ?? 0);
  const largest = pairs.reduce<SeasonPair | null>(
    (best, p) => (best === null || size(p) > size(best) ? p : best),
    null,
  );
  const power = ["season-detectable", "season-animals-needed"];
  const together = pairs.length >= MANY_PAIRS;
  const corrected = (p: SeasonPair) =>
    p.sentences.some(({ code }) => code === "season-not-shown-corrected");
  const notShown = pairs.filter(
    (p) => p.decision === "not shown" && p !== largest && !corrected(p),
  );
  return [
    ...pairs.flatMap((p) =>
      p.sentences.filter(
        ({ code }) =>
          (p === largest || !power.includes(code)) &&
          !(together && notShown.includes(p) && code === "season-not-shown"),
      ),
    ),
    ...(together && notShown.length > 0
      ? [
          notice("season-not-shown-several", "info", {
            pairs: notShown.map((p) => `${p.from} and ${p.to}`),
          }),
        ]
      : []),
  ];
}
