import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { intervalLogRank } from "../stats/survival/interval-log-rank.js";
import { kaplanMeier, restrictedMean, type SurvivalStep } from "../stats/survival/kaplan-meier.js";
import { logRankTest } from "../stats/survival/log-rank-test.js";
import { type TurnbullFit, turnbull, turnbullSurvival } from "../stats/survival/turnbull.js";
import { type CumulativeShare, cumulativeShares, endDay } from "./cumulative-shares.js";
import { type MilestoneModel, milestoneModel } from "./milestone-model.js";
import { type MilestoneOptions, type MilestoneTime, milestoneTimes } from "./milestone-times.js";

export interface DescribeMilestoneOptions extends MilestoneOptions {
  /** Groups compared by log-rank. Default "season". */
  readonly by?: "season" | "sex";
  readonly level?: number;
}

export interface MilestoneDescription {
  readonly milestone: string;
  readonly species: string;
  readonly scale: "age" | "since admission";
  readonly n: number;
  readonly seen: number;
  readonly stillInCare: number;
  readonly died: number;
  readonly left: number;
  readonly times: readonly MilestoneTime[];
  /** Interval-censored, left-truncated estimate; death and leaving censor it. */
  readonly turnbull: Pick<TurnbullFit, "steps" | "converged" | "stop" | "violation">;
  /** Between which days half had reached it, as far as the looks tell. */
  readonly median: { readonly from: number; readonly to: number | null } | null;
  /** Share reached by each day, bounds where the looks leave it open. */
  readonly reached: readonly {
    readonly day: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  /** Kaplan-Meier with each time at the middle of its looks, delayed entry, log-log intervals. */
  readonly middle: readonly SurvivalStep[];
  /** Mean days without the milestone up to `until`. */
  readonly restrictedMean: Measured & { readonly until: number | null };
  /** What became of all: seen, died, left. */
  readonly shares: readonly CumulativeShare[];
  readonly groups: {
    readonly by: "season" | "sex";
    readonly names: readonly string[];
    readonly observed: readonly number[];
    readonly expected: readonly number[];
    readonly chiSquared: number | null;
    readonly p: number | null;
    /** The same question from the looks themselves (Sun's test); on days since admission only. */
    readonly betweenLooksP: number | null;
  } | null;
  readonly model: MilestoneModel | null;
  readonly sentences: readonly Notice[];
}

const few = 5;

/**
 * When the animals of a species reach a milestone: between which looks, how
 * many, and what became of those that did not. Times are interval-censored
 * (Turnbull), animals that arrived late are left-truncated, death and leaving
 * compete (Aalen-Johansen); Kaplan-Meier and log-rank use the middle of the
 * looks. A Cox model is fitted only from 10 events on.
 *
 * @example describeMilestone(study, { species: "sea otter", milestone: "first unaided dive" }).value.median // { from: 66, to: 73 }
 */
export function describeMilestone(
  study: StudySeries,
  options: DescribeMilestoneOptions,
): Result<"describe-milestone", MilestoneDescription> {
  const level = options.level ?? 0.95;
  const by = options.by ?? "season";
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
  const until = rows.length === 0 ? null : Math.max(...data.time);
  const mean = curve === null || until === null ? null : restrictedMean(curve, until);
  const bySeason = groupTest(study, rows, data, by, scale);
  const model = milestoneModel(study, rows, data, level);
  const median = fit === null ? null : medianOf(fit);
  const early = earlyRisk(times);

  const sentences: Notice[] = [];
  const base = { milestone, species, n: times.length, events: seen };
  if (seen === 0) sentences.push(notice("milestone-none-seen", "info", base));
  else
    sentences.push(
      notice("milestone-median", "info", {
        ...base,
        from: median?.from ?? null,
        to: median?.to ?? null,
        exact: times.every((t) => t.by === null || t.by === t.after),
      }),
    );
  if (count("died") + count("left") > 0)
    sentences.push(
      notice("milestone-competing", "caution", { died: count("died"), left: count("left") }),
    );
  if (fit !== null && !fit.converged) sentences.push(notice("milestone-no-maximum", "caution"));
  if (early !== null && seen > 0 && times.some((t) => t.by !== null && t.after < early))
    sentences.push(notice("milestone-early-risk", "caution", { day: early, few }));
  if (bySeason?.p != null)
    sentences.push(
      notice(
        bySeason.p < 1 - level ? "milestone-groups-differ" : "milestone-groups-not-shown",
        "info",
        {
          p: bySeason.p,
        },
      ),
    );
  if (model === null && seen > 0 && seen < 10)
    sentences.push(notice("milestone-few-events", "info", { ...base, needed: 10 }));
  if (species === "sea otter" && /release|long-term/i.test(milestone))
    sentences.push(notice("milestone-otter-release-context", "caution"));

  return {
    kind: "describe-milestone",
    schema: 1,
    value: {
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
      median,
      reached: fit === null ? [] : reachedBy(fit),
      middle: curve?.steps ?? [],
      restrictedMean: {
        ...(mean === null
          ? notDefined("d", notice("milestone-none-seen", "info", base))
          : measured(mean.mean, "d", {
              n: rows.length,
              ...(Number.isFinite(mean.se) ? { se: mean.se } : {}),
            })),
        until,
      },
      shares: cumulativeShares(times),
      groups: bySeason,
      model,
      sentences,
    },
    method: {
      name: "Time to a milestone, interval-censored and left-truncated, with competing events",
      options: { species, milestone, scale, by, level, seasons: options.seasons ?? null },
      citations: [
        "Turnbull BW (1976) J R Stat Soc B 38:290-295",
        "Aalen OO, Johansen S (1978) Scand J Stat 5:141-150",
        "Kaplan EL, Meier P (1958) J Am Stat Assoc 53:457-481",
        "Sun J (1996) Stat Med 15:1387-1395",
        "Efron B (1977) J Am Stat Assoc 72:557-565",
      ],
    },
    basis: { used: times.length, leftOut: leftOutByReason(found.leftOut), of: "animals" },
    diagnostics: { turnbullViolation: fit?.violation ?? null },
    notices: [...found.notices, ...found.leftOut.map((l) => l.why)],
  };
}

/** The interval in which the share that has not reached it falls to one half. */
function medianOf(fit: TurnbullFit): { from: number; to: number | null } | null {
  let reached = 0;
  for (const step of fit.steps) {
    reached += step.mass;
    if (reached >= 0.5 - 1e-9) return step.to === null ? null : { from: step.from, to: step.to };
  }
  return null;
}

function reachedBy(fit: TurnbullFit) {
  const days = [...new Set(fit.steps.flatMap((s) => [s.from, ...(s.to === null ? [] : [s.to])]))];
  return days
    .sort((a, b) => a - b)
    .map((day) => {
      const { lower, upper } = turnbullSurvival(fit, day);
      return { day, lower: 1 - upper, upper: 1 - lower };
    });
}

function groupTest(
  study: StudySeries,
  rows: readonly MilestoneTime[],
  data: { readonly time: number[]; readonly event: boolean[]; readonly entry: number[] },
  by: "season" | "sex",
  scale: MilestoneDescription["scale"],
): MilestoneDescription["groups"] {
  const sex = new Map(study.animals.map((a) => [a.animal.animalId, a.animal.sex]));
  const group = rows.map(
    (t) => (by === "season" ? t.season : sex.get(t.animalId)) ?? "not written",
  );
  if (new Set(group).size < 2 || !data.event.includes(true)) return null;
  const test = logRankTest(data, group);
  return {
    by,
    names: test.groups,
    observed: test.observed,
    expected: test.expected,
    chiSquared: test.chiSquared,
    p: test.p,
    // Ages are left-truncated at admission, which this test cannot take up.
    betweenLooksP:
      scale === "age"
        ? null
        : intervalLogRank(
            rows.map((t) => ({ after: t.after, by: t.by })),
            group,
          ).p,
  };
}

/** The first day on which at least five animals are under observation; null when from the start. */
function earlyRisk(times: readonly MilestoneTime[]): number | null {
  const entries = times.map((t) => t.entered).sort((a, b) => a - b);
  return entries[few - 1] ?? null;
}

function leftOutByReason(leftOut: readonly { readonly why: Notice }[]) {
  const counts = new Map<string, number>();
  for (const l of leftOut) counts.set(l.why.code, (counts.get(l.why.code) ?? 0) + 1);
  return [...counts].map(([reason, n]) => ({ reason, count: n }));
}
