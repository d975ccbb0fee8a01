import type { Chart } from "../../charts/chart.js";
import { shareChart } from "../../charts/share-chart.js";
import type { MilestoneDescription } from "../../seasons/milestone-description.js";

/** The share of animals that had reached a milestone by each day, with its interval. */
export function milestonePicture(milestone: MilestoneDescription): Chart {
  const { species, n, seen, scale, reached, shares, died, left } = milestone;
  return shareChart({
    milestone: milestone.milestone,
    of: species,
    n,
    seen,
    points: reached.map((r) => ({
      day: r.from,
      least: r.least,
      most: r.most,
      lower: r.interval?.lower ?? null,
      upper: r.interval?.upper ?? null,
    })),
    gone: died + left === 0 ? [] : shares.map((s) => ({ day: s.day, died: s.died, left: s.left })),
    dayTitle: scale === "age" ? "Age (days)" : "Days since admission",
    intervalIs: "95 % interval, animals drawn anew",
    method: "as far as the looks tell; animals that came later count from when they came",
  });
}
