import type { MassBand, NamedHistory } from "../../charts/contemporaries-chart.js";
import { quantile } from "../../stats/descriptive/quantile.js";

/** With fewer animals than these a centile is one animal's accident. */
const fewest = 8;

/**
 * What animals weigh from day to day of age: the middle, the middle half and
 * nine in ten, each animal's mass on a day read off the line between its two
 * weighings around it. Days with fewer than eight animals are left out, and only
 * the longest run of days is kept, so that the band has no holes. Centiles are
 * those of type 7 (Hyndman and Fan 1996).
 */
export function massBand(histories: readonly NamedHistory[]): readonly MassBand[] {
  const last = Math.max(-1, ...histories.map((h) => Math.floor(h.points.at(-1)?.day ?? -1)));
  const runs: MassBand[][] = [[]];
  for (let day = 0; day <= last; day++) {
    const masses = histories.flatMap((h) => massOn(h, day) ?? []);
    const run = runs.at(-1)!;
    if (masses.length < fewest) {
      if (run.length > 0) runs.push([]);
      continue;
    }
    const at = (share: number) => quantile(masses, share)!;
    run.push({
      day,
      n: masses.length,
      low: at(0.05),
      lowerQuarter: at(0.25),
      middle: at(0.5),
      upperQuarter: at(0.75),
      high: at(0.95),
    });
  }
  return runs.reduce((longest, run) => (run.length > longest.length ? run : longest));
}

function massOn({ points }: NamedHistory, day: number): number | null {
  const after = points.findIndex((p) => p.day >= day);
  const next = points[after];
  if (next === undefined) return null;
  if (next.day === day) return next.massG;
  const before = points[after - 1];
  // Over a gap of more than a week nobody knows what it weighed.
  if (before === undefined || next.day - before.day > 7) return null;
  const share = (day - before.day) / (next.day - before.day);
  return before.massG + share * (next.massG - before.massG);
}
