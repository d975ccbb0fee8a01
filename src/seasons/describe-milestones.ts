import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { adjustPValues } from "../stats/hypothesis-tests/adjust-p-values.js";
import { type DescribeMilestoneOptions, describeMilestone } from "./describe-milestone.js";
import type { MilestoneDescription } from "./milestone-description.js";
import { milestonesIn } from "./milestone-times.js";

export interface MilestoneOverview {
  readonly species: string;
  readonly milestones: readonly MilestoneDescription[];
  /** Log-rank p of the groups, one for each milestone, adjusted for looking at all (Holm). */
  readonly adjustedP: readonly (number | null)[];
}

/**
 * Every milestone the records of a species speak of, with "first solid" from
 * the feeds, in order of the median day. Each is described by
 * {@link describeMilestone}; the comparison of groups is adjusted for their number.
 *
 * @example describeMilestones(study, { species: "sea otter" }).value.milestones.map((m) => m.milestone)
 */
export function describeMilestones(
  study: StudySeries,
  options: Omit<DescribeMilestoneOptions, "milestone">,
): Result<"describe-milestones", MilestoneOverview> {
  const named = milestonesIn(study, options.species);
  const fed = study.animals.some(
    (a) =>
      a.animal.species === options.species && a.feeds.some((f) => f.composition?.kind === "solid"),
  );
  const names = fed && !named.some(isFirstSolid) ? [...named, "first solid"] : named;
  const results = names.map((milestone) => describeMilestone(study, { ...options, milestone }));
  const described = results
    .map((r) => r.value)
    .filter((m) => m.n > 0)
    .sort(
      (a, b) =>
        (a.median?.from ?? 1e9) - (b.median?.from ?? 1e9) || (a.milestone < b.milestone ? -1 : 1),
    );
  return {
    kind: "describe-milestones",
    schema: 1,
    value: {
      species: options.species,
      milestones: described,
      adjustedP: adjustPValues(
        described.map((m) => m.groups?.p ?? null),
        "holm",
      ),
    },
    method: {
      name: "Time to each milestone",
      options: { ...options, milestones: names },
      citations: results[0]?.method.citations ?? [],
    },
    basis: { used: described.length, leftOut: [], of: "milestones" },
    diagnostics: {},
    notices: results.flatMap((r) => r.notices),
  };
}

function isFirstSolid(name: string): boolean {
  return name.toLowerCase() === "first solid";
}
