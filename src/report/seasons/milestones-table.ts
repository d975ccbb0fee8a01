import type { Result } from "../../core/result.js";
import type { MilestoneOverview } from "../../seasons/describe-milestones.js";
import { formatNumber } from "../../units/format-number.js";
import { type Table, table } from "../section/section.js";
import { ofSpecies, withTidy } from "../section/tidy-table.js";
import { milestoneCountColumns, milestoneCounts } from "./milestone-counts.js";

/**
 * When animals reached each milestone: each is known only to lie between the
 * last look without it and the first with it, so the median is a stretch of
 * days; animals that died or left before it are counted, not dropped.
 */
export function milestonesTable(overview: Result<"describe-milestones", MilestoneOverview>): Table {
  const { milestones, species } = overview.value;
  const shown = table(
    "milestones",
    `Milestones of ${species}s. Half had reached it between the two days named (as far as the looks tell; animals that came later count from when they came), with the interval got by drawing animals anew.`,
    [
      { title: "Milestone" },
      ...milestoneCountColumns,
      { title: "Half had reached it", unit: "days" },
      { title: "95 % interval", unit: "days" },
    ],
    milestones.map((m) => [
      m.milestone,
      ...milestoneCounts(m),
      m.median === null
        ? "not told by these records"
        : daysText(m.median.from, m.median.to, "unknown"),
      m.medianInterval === null || m.medianInterval.lower === null
        ? null
        : daysText(m.medianInterval.lower, m.medianInterval.upper, "no limit"),
    ]),
    "No milestone is recorded.",
  );
  const days = (title: string) => ({ title, unit: "d" });
  return ofSpecies(
    species,
    withTidy(
      shown,
      [
        { title: "Milestone" },
        ...milestoneCountColumns,
        days("Half had reached it, from"),
        days("Half had reached it, to"),
        days("95 % interval, lower end"),
        days("95 % interval, upper end"),
      ],
      milestones.map((m) => [
        m.milestone,
        ...milestoneCounts(m),
        m.median?.from ?? null,
        m.median?.to ?? null,
        m.medianInterval?.lower ?? null,
        m.medianInterval?.upper ?? null,
      ]),
    ),
  );
}

/** "43.6 to 43.7", or one day where both look the same. */
function daysText(from: number, to: number | null, open: string): string {
  const first = formatNumber(from, 3);
  const last = to === null ? open : formatNumber(to, 3);
  return first === last ? first : `${first} to ${last}`;
}
