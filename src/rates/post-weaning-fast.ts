import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { rowsBetween } from "../series/rows-between.js";
import { showsIllness } from "../series/signs/shows-illness.js";
import { mayBePresent } from "../series/signs/sign.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { median } from "../stats/descriptive/median.js";
import { dayMs } from "../units/day-ms.js";
import type { IntakeDay } from "./intake-by-day.js";

export interface PostWeaningFast {
  readonly from: number;
  readonly to: number | null;
  readonly why: Notice;
}

/** A fast begins below this share of what was eaten before, and ends above the other. */
const beginShare = 0.25;
const endShare = 0.5;

/**
 * The fast after weaning in species that have one (harbour seals): the first two
 * feeding days in a row on which less than a quarter of the usual was eaten,
 * once the usual age at weaning is near and no formula is offered any more (a
 * pup that refuses its formula is not fasting); it
 * ends on the day that reaches half of the usual again. "Usual" is the median of
 * the seven recorded days before. A milestone that names a fast begins it too.
 * Loss of appetite from illness looks the same on paper: where vomit or
 * medication is recorded in it the notice says so.
 */
export function findPostWeaningFast(
  series: AnimalSeries,
  intake: readonly IntakeDay[],
  profile: SpeciesProfile,
): PostWeaningFast | null {
  const youngestD = profile.weaning === null ? 0 : 0.75 * profile.weaning.range[0];
  const birth = series.age.birth;
  const oldEnough = (at: number) => birth === null || (at - birth) / dayMs >= youngestD;
  // Days without any record are no proof of a fast.
  const days = intake.filter((d) => d.feeds > 0);
  const named = series.signs.find(
    (s) =>
      s.kind === "milestone" &&
      /\bfast(ing)?\b/i.test(s.written) &&
      !/not yet|end|over/i.test(s.written),
  );
  for (let i = 3; i < days.length; i++) {
    const day = days[i]!;
    const namedHere = named !== undefined && named.at >= day.from && named.at < day.to;
    if (!namedHere && !oldEnough(day.from)) continue;
    const usual =
      median(days.slice(Math.max(0, i - 7), i).map((d) => d.eatenG.high ?? d.eatenG.low)) ?? 0;
    const low = (d: IntakeDay | undefined) =>
      d !== undefined && (d.eatenG.high ?? Infinity) < beginShare * usual;
    const next = days[i + 1];
    const noFormula = (d: IntakeDay) => formulaOfferedG(series, d) <= 0.05 * usual;
    const begins = namedHere || (low(day) && low(next) && noFormula(day) && noFormula(next!));
    if (!begins || usual <= 0) continue;
    const back = days.slice(i + 1).find((d) => d.eatenG.low >= endShare * usual);
    const to = back?.from ?? null;
    const ill = series.signs.some(
      (s) =>
        s.at >= day.from &&
        (to === null || s.at < to) &&
        (showsIllness(s) || (s.kind === "regurgitation" && mayBePresent(s))),
    );
    const why = notice(ill ? "phase-fast-or-illness" : "phase-fast", ill ? "caution" : "info", {
      usual,
      share: 100 * beginShare,
    });
    return { from: day.from, to, why };
  }
  return null;
}

/** Formula offered on a day, g; a diet of unknown kind may be formula. */
function formulaOfferedG(series: AnimalSeries, day: IntakeDay): number {
  return rowsBetween(series.feeds, day.from, day.to)
    .filter((f) => f.composition?.kind !== "solid")
    .reduce((sum, f) => sum + f.offeredG, 0);
}
