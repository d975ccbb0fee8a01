import type { Random } from "../../../src/core/random.js";
import { normalCumulative } from "../../../src/stats/distributions/normal.js";
import type { CensoredTime } from "../../../src/stats/survival/censored-time.js";
import { imputedLogRank } from "../../../src/stats/survival/imputed-log-rank.js";
import { turnbullInterval } from "../../../src/stats/survival/turnbull-interval.js";

export interface LooksPlan {
  readonly units: number;
  /** Days between looks; each falls up to a day earlier or later. */
  readonly everyD: number;
  /** Latest entry, d; entries are uniform from 0. With 0 everybody is there from the start. */
  readonly latestEntryD: number;
  /** Share lost by day 60, at random and before the event is looked for again. */
  readonly lost: number;
  /** Mean and spread of the true time, d (normal). */
  readonly mean: number;
  readonly sd: number;
}

export const weekly: LooksPlan = {
  units: 12,
  everyD: 7,
  latestEntryD: 0,
  lost: 0.1,
  mean: 60,
  sd: 12,
};

/**
 * Units looked at now and then for an event: each time is known to lie between
 * two looks. A unit whose event came before its entry was never seen and is
 * drawn again (left truncation).
 */
export function simulatedLooks(plan: LooksPlan, random: Random): CensoredTime[] {
  return Array.from({ length: plan.units }, () => {
    for (;;) {
      const time = plan.mean + plan.sd * random.normal();
      const entered = plan.latestEntryD * random.uniform();
      if (time <= entered) continue;
      const until = plan.lost > 0 ? (-60 / Math.log(1 - plan.lost)) * random.exponential() : 1e9;
      return looksAt(time, entered, Math.min(entered + until, 150), plan, random);
    }
  });
}

function looksAt(
  time: number,
  entered: number,
  end: number,
  plan: LooksPlan,
  random: Random,
): CensoredTime {
  const more = plan.latestEntryD > 0 ? { entered } : {};
  let after = entered;
  for (let due = entered + plan.everyD * random.uniform(); due < end; due += plan.everyD) {
    const look = due + 2 * random.uniform() - 1;
    if (look <= after) continue;
    if (look >= time) return { after, by: look, ...more };
    after = look;
  }
  return { after, by: null, ...more };
}

/** How often the interval of the share holds the true share, and how wide it is, at each time. */
export function coverageOfShares(
  plan: LooksPlan,
  options: {
    readonly at: readonly number[];
    readonly sets: number;
    readonly runs: number;
    readonly random: Random;
  },
): { readonly covered: number[]; readonly width: number[] } {
  const { at, sets, runs, random } = options;
  const covered = at.map(() => 0);
  const width = at.map(() => 0);
  for (let set = 0; set < sets; set++) {
    const found = turnbullInterval(simulatedLooks(plan, random), at, {
      runs,
      seed: random.below(1e9),
    });
    found.forEach(({ at: t, lower, upper }, j) => {
      const truth = normalCumulative((t - plan.mean) / plan.sd);
      if (lower <= truth && truth <= upper) covered[j]! += 1 / sets;
      width[j]! += (upper - lower) / sets;
    });
  }
  return { covered, width };
}

/** How often two groups alike in their times are called different at the 5 % level. */
export function rateOfDifferences(options: {
  readonly units: readonly [number, number];
  readonly latestEntryD: readonly [number, number];
  readonly everyD: readonly [number, number];
  readonly runs: number;
  readonly imputations: number;
  readonly random: Random;
}): number {
  const { units, latestEntryD, everyD, runs, imputations, random } = options;
  let differ = 0;
  for (let run = 0; run < runs; run++) {
    const groups = ([0, 1] as const).map((g) =>
      simulatedLooks(
        { ...weekly, units: units[g], latestEntryD: latestEntryD[g], everyD: everyD[g] },
        random,
      ),
    );
    const { p } = imputedLogRank(
      groups.flat(),
      groups.flatMap((times, g) => times.map(() => String(g))),
      { imputations, seed: random.below(1e9) },
    );
    if (p !== null && p < 0.05) differ++;
  }
  return differ / runs;
}
