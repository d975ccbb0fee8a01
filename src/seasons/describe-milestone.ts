import type { LongWork } from "../core/long-work.js";
import { measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { type KaplanMeier, kaplanMeier, restrictedMean } from "../stats/survival/kaplan-meier.js";
import { turnbull } from "../stats/survival/turnbull.js";
import { cumulativeShares, endDay } from "./cumulative-shares.js";
import type { MilestoneDescription } from "./milestone-description.js";
import { milestoneGroups } from "./milestone-groups.js";
import { milestoneModel } from "./milestone-model.js";
import { milestoneSentences } from "./milestone-sentences.js";
import { type MilestoneOptions, type MilestoneTime, milestoneTimes } from "./milestone-times.js";
import { medianInterval, medianReached, reachedShares } from "./reached-shares.js";

export interface DescribeMilestoneOptions extends MilestoneOptions, LongWork {
  /** Groups compared by log-rank. Default "season". */
  readonly by?: "season" | "sex";
  readonly level?: number;
  /** Samples behind the interval of the curve; 0 leaves it out. Default 400. */
  readonly runs?: number;
}

/**
 * When the animals of a species reach a milestone: between which looks, how
 * many, and what became of those that did not. Times are interval-censored
 * (Turnbull, with a bootstrap interval), animals that arrived late are
 * left-truncated, death and leaving compete (Aalen-Johansen); Kaplan-Meier and
 * log-rank use the middle of the looks, and a second test the looks themselves.
 * A Cox model is fitted only from 10 events on.
 *
 * @example describeMilestone(series, { species: "sea otter", milestone: "first unaided dive" }).value.n // 19
 */
export function describeMilestone(
  study: StudySeries,
  options: DescribeMilestoneOptions,
): Result<"describe-milestone", MilestoneDescription> {
  const { level = 0.95, by = "season", runs = 400, seed = 1 } = options;
  const found = milestoneTimes(study, options);
  const { times, milestone, species, scale } = found;
  const count = (ended: MilestoneTime["ended"]) => times.filter((t) => t.ended === ended).length;
  const seen = count("seen");
  const fit =
    times.length === 0
      ? null
      : turnbull(times.map(({ after, by: seenBy, entered }) => ({ after, by: seenBy, entered })));
  const rows = times.filter((t) => endDay(t) > t.entered);
  const data = {
    time: rows.map(endDay),
    event: rows.map((t) => t.ended === "seen"),
    entry: rows.map((t) => t.entered),
  };
  const curve = seen === 0 ? null : kaplanMeier(data, { interval: "log-log", level });
  const reached =
    fit === null || seen === 0 ? [] : reachedShares(fit, times, { level, runs, seed });
  const described = {
    milestone,
    species,
    scale,
    n: times.length,
    seen,
    stillInCare: count("still in care"),
    died: count("died"),
    left: count("left"),
    times,
    turnbull: {
      steps: fit?.steps ?? [],
      converged: fit?.converged ?? true,
      stop: fit?.stop ?? "gradient condition met",
      violation: fit?.violation ?? 0,
    },
    median: fit === null ? null : medianReached(fit),
    medianInterval: medianInterval(reached),
    reached,
    middle: curve?.steps ?? [],
    shares: cumulativeShares(times),
    groups: milestoneGroups(study, rows, data, { by, scale, seed }),
    model: milestoneModel(study, rows, data, level),
  } as const;
  return {
    kind: "describe-milestone",
    schema: 1,
    value: {
      ...described,
      restrictedMean: meanWithout(curve, data.time, described),
      sentences: milestoneSentences(described, level),
    },
    method: {
      name: "Time to a milestone, interval-censored and left-truncated, with competing events",
      options: {
        species,
        milestone,
        scale,
        by,
        level,
        runs,
        seed,
        seasons: options.seasons ?? null,
      },
      citations: [
        "Turnbull BW (1976) J R Stat Soc B 38:290-295",
        "Aalen OO, Johansen S (1978) Scand J Stat 5:141-150",
        "Kaplan EL, Meier P (1958) J Am Stat Assoc 53:457-481",
        scale === "age"
          ? "Huang J, Lee C, Yu Q (2008) Stat Med 27:3217-3226"
          : "Sun J (1996) Stat Med 15:1387-1395",
        "Efron B (1977) J Am Stat Assoc 72:557-565",
      ],
    },
    basis: { used: times.length, leftOut: leftOutByReason(found.leftOut), of: "animals" },
    diagnostics: { turnbullViolation: fit?.violation ?? null },
    notices: [...found.notices, ...found.leftOut.map((l) => l.why)],
  };
}

/** Mean days without the milestone up to the last day on record. */
function meanWithout(
  curve: KaplanMeier | null,
  days: readonly number[],
  about: { readonly milestone: string; readonly species: string; readonly n: number },
): MilestoneDescription["restrictedMean"] {
  const until = days.length === 0 ? null : Math.max(...days);
  if (curve === null || until === null) {
    const { milestone, species, n } = about;
    const why = notice("milestone-none-seen", "info", { milestone, species, n, events: 0 });
    return { ...notDefined("d", why), until };
  }
  const { mean, se } = restrictedMean(curve, until);
  const known = Number.isFinite(se) ? { se } : {};
  return { ...measured(mean, "d", { n: days.length, ...known }), until };
}

function leftOutByReason(leftOut: readonly { readonly why: Notice }[]) {
  const counts = new Map<string, number>();
  for (const l of leftOut) counts.set(l.why.code, (counts.get(l.why.code) ?? 0) + 1);
  return [...counts].map(([reason, n]) => ({ reason, count: n }));
}
