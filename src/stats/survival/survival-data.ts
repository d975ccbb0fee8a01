import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";

/**
 * Times to an event. `entry` (default: from the start) is when a row came under
 * observation: the row counts as at risk in (entry, time].
 */
export interface SurvivalData {
  readonly time: ArrayLike<number>;
  /** True where the event happened at `time`, false where observation only ended. */
  readonly event: ArrayLike<boolean | number>;
  readonly entry?: ArrayLike<number>;
}

/** Refuses data no survival curve can be drawn from. */
export function requireSurvivalData(where: string, data: SurvivalData): void {
  const complain = (needed: string, came: string): never => {
    throw new UsageError({
      needed,
      came,
      where,
      todo: "Leave incomplete rows out, with a count.",
    });
  };
  if (data === null || typeof data !== "object" || !("time" in data) || !("event" in data)) {
    complain("{ time, event }, two lists with one entry for each row", "something else came");
  }
  requireList(where, "times", data.time);
  const n = data.time.length;
  if (n === 0) complain("at least one row", "none came");
  requireList(where, "event marks", data.event);
  if (data.event.length !== n) complain(`${n} event marks`, `${data.event.length} came`);
  if (data.entry !== undefined) requireList(where, "entry times", data.entry);
  if (data.entry !== undefined && data.entry.length !== n) {
    complain(`${n} entry times`, `${data.entry.length} came`);
  }
  for (let i = 0; i < n; i++) {
    const start = data.entry?.[i] ?? Number.NEGATIVE_INFINITY;
    if (!Number.isFinite(data.time[i]!)) complain("finite times", `row ${i}: ${data.time[i]}`);
    if (!(start < data.time[i]!)) {
      complain("entry before the time", `row ${i}: ${start} against ${data.time[i]}`);
    }
  }
}

/** Rows by time, latest first, for sweeps that grow the set at risk. */
export function latestFirst(data: SurvivalData): number[] {
  return Array.from({ length: data.time.length }, (_, i) => i).sort(
    (i, j) => data.time[j]! - data.time[i]!,
  );
}

/** One distinct time: who is at risk, who has the event, who leaves. */
export interface RiskTime {
  readonly time: number;
  readonly atRisk: number;
  readonly events: number;
  readonly censored: number;
}

/** The distinct times, ascending, with counts; rows may be restricted. */
export function riskTimes(data: SurvivalData, rows?: readonly number[]): RiskTime[] {
  const chosen = rows ?? Array.from({ length: data.time.length }, (_, i) => i);
  const up = chosen.slice().sort((i, j) => data.time[i]! - data.time[j]!);
  const entries =
    data.entry === undefined ? [] : chosen.map((i) => data.entry![i]!).sort((a, b) => a - b);
  const out: RiskTime[] = [];
  let late = chosen.length;
  for (let a = 0; a < up.length; ) {
    const time = data.time[up[a]!]!;
    let b = a;
    let events = 0;
    while (b < up.length && data.time[up[b]!] === time) {
      if (data.event[up[b]!]) events++;
      b++;
    }
    // At risk: not yet left, less those who enter only at or after this time.
    let notYet = 0;
    for (let k = entries.length - 1; k >= 0 && entries[k]! >= time; k--) notYet++;
    out.push({ time, atRisk: late - notYet, events, censored: b - a - events });
    late -= b - a;
    a = b;
  }
  return out;
}
