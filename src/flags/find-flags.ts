import { longWorkOf } from "../core/long-work.js";
import { notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { runSteps, type Steps } from "../core/steps.js";
import { limitsInForce } from "../rates/limits-in-force.js";
import { inCareOn } from "../reference/in-care.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { cusumRunLength } from "../stats/sequential/cusum.js";
import { ewmaRunLength } from "../stats/sequential/ewma.js";
import type { Episode } from "./animal-day/episode.js";
import { defaultCalibration } from "./budget/default-calibration.js";
import {
  budgetShares,
  type FlagCalibration,
  type HeldOutRate,
  type RealisedRate,
} from "./budget/false-flag-budget.js";
import { heldOutRates } from "./budget/held-out-rates.js";
import { outsideBudgetNotices } from "./budget/outside-budget-notices.js";
import { countAnimals } from "./count-animals.js";
import type { FlagDay, ReplayOptions } from "./replay.js";
import { lastDay, replaySteps } from "./replay-flags.js";
import type { ReplayHistory } from "./replay-history.js";
import { defaultRuleLimits, type RuleLimits } from "./rules/rule-limits.js";
import { sharedNotices } from "./shared-notices.js";
import { sharedSigns } from "./shared-signs.js";
import {
  averageWeight,
  type PerStatistic,
  sumAllowance,
  watchedStatistics,
} from "./watch/watch-group.js";
import type { ExpectedCourse } from "./watch/watch-of-study.js";

export type { FlagDay } from "./replay.js";
export type { ExpectedCourse } from "./watch/watch-of-study.js";

/** The day's list, and the episodes that led to it. */
export interface FoundFlags extends FlagDay {
  /** Every episode since the first record, in order of opening; those still open included. */
  readonly episodes: readonly Episode[];
  /** What each animal was on course for over the last three weeks; see `ExpectedCourse`. */
  readonly courses: readonly ExpectedCourse[];
}

/**
 * How near in age the others are and over how many days gain is taken is no
 * option: the thresholds that keep the budget were found with one choice of them.
 */
export interface FlagOptions extends Omit<ReplayOptions, "from" | "to"> {
  /** The day looked at; nothing later is read. Default: the last day with a weighing. */
  readonly onDay?: CivilDate;
  /** Same as `rules`, merged after it. */
  readonly limits?: Partial<FlagLimits>;
  /** Kept from look to look; see `KeptWatch`. */
  readonly kept?: KeptWatch;
}

/**
 * What a long-lived process keeps between two looks at one study: each look goes on from
 * the watch of the one before and leaves its own. What is found does not hang on it.
 *
 * @example const kept: KeptWatch = { history: "begin" }; findFlags(study, { kept })
 */
export interface KeptWatch {
  history: ReplayHistory | "begin";
}

/** Limits of the rules that stand outside the budget of false flags. */
export type FlagLimits = RuleLimits;
export const defaultFlagLimits: FlagLimits = defaultRuleLimits;

/**
 * Which animals need a second look on one day, and why. Signals from the
 * weighings share one budget, the number of false flags per 100 healthy
 * animal-weeks that the user chooses (default 2); danger rules and rules of
 * common practice stand outside it. Every animal in care that day appears as
 * flagged, not flagged or not judged. Only data up to the end of that day are
 * read. "Not flagged" does not say that an animal is healthy; nothing here is a
 * diagnosis.
 *
 * @example findFlags(series, { onDay: "2024-05-14" }).value.counts.flagged // 3
 */
export function findFlags(
  study: StudySeries,
  options: FlagOptions = {},
): Result<"find-flags", FoundFlags> {
  return runSteps(findFlagsSteps(study, options), longWorkOf(options));
}

/** The steps of `findFlags`, to be run by whoever has other things to do in between. */
export function* findFlagsSteps(
  study: StudySeries,
  options: FlagOptions,
): Steps<Result<"find-flags", FoundFlags>> {
  const onDay = options.onDay ?? lastDay(study) ?? "0000-01-01";
  const rules = { ...options.rules, ...options.limits };
  const { kept, ...asked } = options;
  const { replay, history } = yield* replaySteps(kept?.history ?? null, study, {
    ...asked,
    rules,
    from: onDay,
    to: onDay,
  });
  if (kept !== undefined && history !== null) kept.history = history;
  const day: FlagDay = replay.days[0] ?? {
    onDay,
    animals: [],
    counts: countAnimals([]),
    open: [],
    closed: [],
    sharedCauses: [],
    together: [],
  };
  const value: FoundFlags = { ...day, episodes: replay.episodes, courses: replay.courses };
  const used = study.animals.filter((a) => inCareOn(a, onDay, study.settings)).length;
  const budget = options.falseFlagsPer100AnimalWeeks ?? 2;
  return {
    kind: "find-flags",
    schema: 2,
    value,
    method: {
      name: "Signals from weighings under one budget of false flags; danger and practice rules",
      options: {
        onDay,
        falseFlagsPer100AnimalWeeks: budget,
        rules: { ...limitsInForce(defaultRuleLimits, study.settings), ...rules },
        statistics: [...watchedStatistics],
        shares: budgetShares,
        thresholds: replay.thresholds,
        runLengthsIfIndependent: runLengths(replay.thresholds.at(-1)?.values),
        earlierSeasons: options.earlierSeasons ?? true,
        calibratedOn: options.calibration?.world ?? "the world that ships; see method notes",
      },
      citations: [
        "Harvey (1989) Forecasting, Structural Time Series Models and the Kalman Filter",
        "Page (1954) Biometrika 41:100-115 (cumulative sums)",
        "Roberts (1959) Technometrics 1:239-250 (moving averages)",
      ],
    },
    basis: { used, leftOut: [], of: "animals in care" },
    diagnostics: {},
    notices: [
      ...sharedNotices(study, onDay),
      ...sharedSigns(value.animals),
      notice("flags-no-diagnosis", "caution"),
      budgetNotice(
        budget,
        replay.thresholds.at(-1)?.animals ?? 11,
        options.calibration ?? defaultCalibration,
      ),
      ...outsideBudgetNotices(rules),
      ...replay.borrowed.map(({ species, ...from }) =>
        notice("flags-borrowed", "info", { species, ...from }),
      ),
      ...(used === 0 ? [notice("flags-nobody-in-care", "caution", { day: onDay })] : []),
    ],
  };
}

/**
 * Weighings until a false signal of the average and of the sum of surprises, by
 * the integral equation, if surprises were independent with known parameters. They
 * show where the thresholds lie; the rate claimed comes from simulation alone. The
 * last ones are kept: solving the equation costs a fifth of the day of a small study.
 */
function runLengths(thresholds: PerStatistic | undefined) {
  if (thresholds === undefined) return null;
  const { "surprise average": width, "surprise sum": limit } = thresholds;
  if (lastLengths?.width !== width || lastLengths.limit !== limit)
    lastLengths = {
      width,
      limit,
      average: ewmaRunLength({ weight: averageWeight, width }),
      sum: cusumRunLength({ allowance: sumAllowance, limit }),
    };
  const { average, sum } = lastLengths;
  return { average, sum };
}

let lastLengths: Readonly<Record<"width" | "limit" | "average" | "sum", number>> | null = null;

/** The budget, and what came of it in simulated groups, at the budget and size of group nearest to these. */
function budgetNotice(budget: number, animals: number, calibration: FlagCalibration) {
  const away = (r: RealisedRate) =>
    [
      Math.abs(Math.log(r.per100Weeks / budget)),
      Math.abs(Math.log(r.animals / Math.max(1, animals))),
    ] as const;
  const near = calibration.realised
    ?.slice()
    .sort((a, b) => away(a)[0] - away(b)[0] || away(a)[1] - away(b)[1])[0];
  if (near === undefined && calibration === defaultCalibration) return heldOutNotice(budget);
  if (near === undefined) return notice("flags-budget-unmeasured", "info", { budget });
  return notice("flags-budget", "info", {
    budget,
    nearest: near.per100Weeks,
    animals: near.animals,
    lowest: near.mean[0],
    highest: near.mean[1],
    low: near.low,
    high: near.high,
  });
}

/** The budget, and what came of the thresholds that ship in nurseries on which nothing was tuned. */
function heldOutNotice(budget: number) {
  const away = (r: HeldOutRate) => Math.abs(Math.log(r.per100Weeks / budget));
  const { per100Weeks, worlds, rate, inCare, lowest, highest } = heldOutRates.reduce((a, b) =>
    away(b) < away(a) ? b : a,
  );
  return notice("flags-budget-held-out", "info", {
    budget,
    nearest: per100Weeks,
    worlds,
    rate,
    inCare,
    lowest: lowest.rate,
    lowestWorld: lowest.world,
    highest: highest.rate,
    highestWorld: highest.world,
  });
}
