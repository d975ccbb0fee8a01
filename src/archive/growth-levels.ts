import { type Measured, measured } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { fitLinearMixed } from "../stats/linear-mixed/fit-linear-mixed.js";

/** One animal's gain, g/d, and where it was reared. */
export interface PooledGain {
  readonly facility: string;
  readonly season: string;
  readonly gain: number;
}

/** How gain differs from house to house, from season to season, and from animal to animal. */
export interface Levels {
  /** Mean gain of a house to come, g/d, with its interval. */
  readonly mean: Measured;
  /** Standard deviations, g/d; `seasons` is null where no house has two. */
  readonly between: {
    readonly facilities: number;
    readonly seasons: number | null;
    readonly animals: number;
  };
  readonly facilities: readonly {
    readonly facility: string;
    readonly animals: number;
    /** Mean of its animals as they stand, g/d. */
    readonly observed: number;
    /** Drawn towards the mean of all by what it can be trusted, g/d, with its error. */
    readonly expected: Measured;
    readonly seasons: readonly {
      readonly season: string;
      readonly animals: number;
      readonly observed: number;
    }[];
  }[];
}

const level = 0.95;

/**
 * Parts gains into levels by a linear mixed model with houses, and seasons in houses, as
 * random effects (REML). The interval of the mean is Student's with one degree of freedom
 * fewer than houses, since the mean is held by the houses. Source: Pinheiro and Bates 2000,
 * Mixed-Effects Models in S and S-PLUS, ch. 1 (one-way classification and its nesting).
 *
 * @throws UsageError with fewer than two houses.
 * @example growthLevels(gains).value.between.facilities // 3.4
 */
export function growthLevels(gains: readonly PooledGain[]): Result<"growth-levels", Levels> {
  const byHouse = grouped(gains, (g) => g.facility);
  if (byHouse.size < 2)
    throw new UsageError({
      needed: "animals of two facilities that fill the window of ages",
      came: `${byHouse.size} with ${gains.length} animals`,
      where: "pool",
      todo: "Add another house, choose other ages (--ages 14-42), or ask of one: gramline prior STUDY.",
    });
  const hasSeasons = [...byHouse.values()].some((own) => grouped(own, (g) => g.season).size > 1);
  const ones = gains.map(() => 1);
  const effect = { names: ["intercept"], columns: [ones] };
  const fit = fitLinearMixed({
    response: gains.map((g) => g.gain),
    fixed: effect,
    levels: [
      { name: "facility", group: gains.map((g) => g.facility), ...effect },
      ...(hasSeasons
        ? [{ name: "season", group: gains.map((g) => g.season), nested: true, ...effect }]
        : []),
    ],
  });
  const mean = fit.fixed.estimates[0]!;
  const se = fit.fixed.standardErrors[0]!;
  const half = studentTQuantile(0.5 + level / 2, byHouse.size - 1) * se;
  const houses = fit.random[0]!;
  return {
    kind: "growth-levels",
    schema: 1,
    value: {
      mean: measured(mean, "g/d", {
        se,
        n: gains.length,
        interval: { lower: mean - half, upper: mean + half, level },
      }),
      between: {
        facilities: houses.sd[0]!,
        seasons: hasSeasons ? fit.random[1]!.sd[0]! : null,
        animals: fit.sigma,
      },
      facilities: [...byHouse].map(([facility, own]) => {
        const at = houses.groups.indexOf(facility);
        return {
          facility,
          animals: own.length,
          observed: average(own),
          expected: measured(mean + houses.effects[at]![0]!, "g/d", {
            se: houses.effectStandardErrors[at]![0]!,
            n: own.length,
          }),
          seasons: [...grouped(own, (g) => g.season)].map(([season, some]) => ({
            season,
            animals: some.length,
            observed: average(some),
          })),
        };
      }),
    },
    method: {
      name: "Linear mixed model of gains, houses and seasons in houses at random, REML",
      options: { level, status: fit.status, seasons: hasSeasons },
      citations: ["Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS, ch. 1"],
    },
    basis: { used: gains.length, leftOut: [], of: "animals" },
    diagnostics: { status: fit.status, singular: fit.singular, slope: fit.slope },
    notices: [
      ...fit.notices,
      ...(hasSeasons
        ? []
        : [notice("pool-without-season-level", "caution", { facilities: byHouse.size })]),
    ],
  };
}

const average = (own: readonly PooledGain[]) => own.reduce((s, g) => s + g.gain, 0) / own.length;

function grouped<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const list = groups.get(key(row));
    if (list === undefined) groups.set(key(row), [row]);
    else list.push(row);
  }
  return groups;
}
