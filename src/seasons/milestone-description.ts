import type { Interval, Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import type { SurvivalStep } from "../stats/survival/kaplan-meier.js";
import type { TurnbullFit } from "../stats/survival/turnbull.js";
import type { CumulativeShare } from "./cumulative-shares.js";
import type { MilestoneGroups } from "./milestone-groups.js";
import type { MilestoneModel } from "./milestone-model.js";
import type { MilestoneTime } from "./milestone-times.js";
import type { ReachedShare } from "./reached-shares.js";

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
  /** Interval of that day, read off the intervals of the shares; upper null where it has no limit. */
  readonly medianInterval: Interval | null;
  /** Share reached by each day on which the curve moves, with its interval. */
  readonly reached: readonly ReachedShare[];
  /** Kaplan-Meier with each time at the middle of its looks, delayed entry, log-log intervals. */
  readonly middle: readonly SurvivalStep[];
  /** Mean days without the milestone up to `until`. */
  readonly restrictedMean: Measured & { readonly until: number | null };
  /** What became of all: seen, died, left. */
  readonly shares: readonly CumulativeShare[];
  readonly groups: MilestoneGroups | null;
  readonly model: MilestoneModel | null;
  readonly sentences: readonly Notice[];
}
