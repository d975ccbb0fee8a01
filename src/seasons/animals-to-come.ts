import type { StudySeries } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import type { SeasonGains } from "./season-gain.js";

/** An animal weighed this shortly before the newest weighing of the study is still followed. */
const followedD = 14;

/**
 * Animals of the compared seasons that are still on their way through the window: in
 * care, weighed lately, and left out only because the window has not ended for them.
 *
 * @example animalsToCome(study, gains).n // 4
 */
export function animalsToCome(
  study: StudySeries,
  gains: SeasonGains,
): { readonly seasons: readonly string[]; readonly n: number } {
  const newest = study.animals.reduce(
    (last, a) => Math.max(last, a.daily.at(-1)?.at ?? Number.NEGATIVE_INFINITY),
    Number.NEGATIVE_INFINITY,
  );
  const coming = gains.leftOut.filter((l) => {
    if (l.why.code !== "season-left-before-end") return false;
    const animal = study.animals.find((a) => a.animal.animalId === l.animalId);
    const last = animal?.daily.at(-1)?.at;
    const outcome = animal?.animal.outcome ?? null;
    return (
      last !== undefined &&
      (outcome === null || outcome === "in care") &&
      newest - last <= followedD * dayMs
    );
  });
  return { seasons: [...new Set(coming.map((l) => l.season))].sort(), n: coming.length };
}
