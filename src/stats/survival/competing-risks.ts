import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";

export interface CompetingRisksStep {
  readonly time: number;
  readonly atRisk: number;
  /** Share without any event, and its standard error. */
  readonly eventFree: number;
  readonly seEventFree: number;
  /** Share that has had each kind of event, in the order of `kinds`. */
  readonly cumulative: readonly number[];
  readonly se: readonly number[];
}

/**
 * Aalen-Johansen estimate for several kinds of event that exclude each other: the
 * share that has had each kind by each time. `kind[i]` is the kind at `time[i]` or
 * `null` where observation only ended; with `entry` a row is at risk in
 * (entry, time] only. Standard errors by the infinitesimal jackknife.
 *
 * Aalen OO, Johansen S (1978) Scand J Stat 5:141-150.
 *
 * @throws UsageError when lengths differ, a time is not finite or an entry is not before its time.
 * @example competingRisks([1, 2], ["a", "b"]).steps[1].cumulative // [0.5, 0.5]
 */
export function competingRisks(
  time: ArrayLike<number>,
  kind: readonly (string | null)[],
  kinds: readonly string[] = [...new Set(kind)].filter((k): k is string => k !== null).sort(),
  entry?: ArrayLike<number>,
): { readonly kinds: readonly string[]; readonly steps: readonly CompetingRisksStep[] } {
  requireList("competingRisks", "times", time);
  if (entry !== undefined) requireList("competingRisks", "entry times", entry);
  const n = time.length;
  if (kind.length !== n || !Array.from(time).every(Number.isFinite)) {
    throw new UsageError({
      needed: "one finite time and one kind per row",
      came: `${n} times and ${kind.length} kinds came`,
      where: "competingRisks",
      todo: "Leave incomplete rows out, with a count.",
    });
  }
  const late = entry === undefined ? -1 : Array.from(time).findIndex((t, i) => !(entry[i]! < t));
  if (late >= 0) {
    throw new UsageError({
      needed: "an entry before the time in every row",
      came: `row ${late}: entry ${entry?.[late]}, time ${time[late]}`,
      where: "competingRisks",
      todo: "Leave out rows that were never at risk, with a count.",
    });
  }
  const k = kinds.length;
  const up = Array.from({ length: n }, (_, i) => i).sort((i, j) => time[i]! - time[j]!);
  const share = new Float64Array(k + 1);
  share[0] = 1;
  // How the estimates move when row i gets a little more weight.
  const influence = Array.from({ length: k + 1 }, () => new Float64Array(n));
  const steps: CompetingRisksStep[] = [];
  for (let a = 0; a < n; ) {
    const t = time[up[a]!]!;
    let b = a;
    while (b < n && time[up[b]!] === t) b++;
    const here = (i: number) => entry === undefined || entry[i]! < t;
    let atRisk = 0;
    for (let r = a; r < n; r++) if (here(up[r]!)) atRisk++;
    const hazards = kinds.map((name) => {
      let d = 0;
      for (let i = a; i < b; i++) if (kind[up[i]!] === name) d++;
      return d / atRisk;
    });
    const all = hazards.reduce((s, h) => s + h, 0);
    if (all > 0) {
      for (let r = 0; r < n; r++) {
        const i = up[r]!;
        const before = influence[0]![i]!;
        let lost = 0;
        hazards.forEach((h, c) => {
          // Row i is at risk: it moves the hazard by (its own event - h) / n.
          const own = r < b && kind[i] === kinds[c] ? 1 : 0;
          const move = r >= a && here(i) ? (own - h) / atRisk : 0;
          influence[c + 1]![i]! += before * h + share[0]! * move;
          lost += move;
        });
        influence[0]![i] = before * (1 - all) - share[0]! * lost;
      }
      hazards.forEach((h, c) => {
        share[c + 1]! += share[0]! * h;
      });
      share[0]! *= 1 - all;
    }
    const se = influence.map((v) => Math.sqrt(v.reduce((s, x) => s + x * x, 0)));
    steps.push({
      time: t,
      atRisk,
      eventFree: share[0]!,
      seEventFree: se[0]!,
      cumulative: Array.from(share.subarray(1)),
      se: se.slice(1),
    });
    a = b;
  }
  return { kinds, steps };
}
