import { UsageError } from "../../core/usage-error.js";

/**
 * A time known only to lie in (after, by], `by` null when it had not happened
 * at the last look; `after` equal to `by` is an exact time. With `entered` the
 * unit was seen at all only because its time lies after that moment.
 */
export interface CensoredTime {
  readonly after: number;
  readonly by: number | null;
  readonly entered?: number;
}

export interface TurnbullFit {
  /**
   * Intervals that carry probability, in order: (from, to], or a point where
   * `from` equals `to`; `to` null runs to infinity. How the probability lies
   * inside an interval is not known from such data.
   */
  readonly steps: readonly {
    readonly from: number;
    readonly to: number | null;
    readonly mass: number;
  }[];
  readonly logLikelihood: number;
  readonly converged: boolean;
  readonly stop: "gradient condition met" | "iterations used up";
  readonly iterations: number;
  /** Largest violation of the optimality condition, per observation; about 0 at the maximum. */
  readonly violation: number;
}

export interface TurnbullOptions {
  /** Stop when no interval violates the optimality condition by more. Default 1e-8. */
  readonly tolerance?: number;
  /** Default 20,000. */
  readonly maximumIterations?: number;
}

/**
 * The distribution that makes interval-censored, possibly left-truncated times
 * most likely, without assuming a shape (nonparametric maximum likelihood).
 *
 * Self-consistency (EM) steps, accelerated by squared extrapolation, until the
 * first-order condition holds: the likelihood cannot rise by moving
 * probability to any interval. Truncated units enter through their conditional
 * likelihood; the right ends of what was not observable count among the
 * candidates, without which the maximum can be missed. Where few units had
 * entered, the early part of the estimate rests on these few.
 *
 * Turnbull BW (1976) J R Stat Soc B 38:290-295; candidates under truncation:
 * Frydman H (1994) J R Stat Soc B 56:71-74; acceleration: Varadhan R, Roland C
 * (2008) Scand J Stat 35:335-353.
 *
 * @example turnbull([{ after: 0, by: 1 }, { after: 1, by: null }]).steps[0] // { from: 0, to: 1, mass: 0.5 }
 */
export function turnbull(
  times: readonly CensoredTime[],
  options: TurnbullOptions = {},
): TurnbullFit {
  check(times);
  const tolerance = options.tolerance ?? 1e-8;
  const limit = options.maximumIterations ?? 20_000;
  const intervals = candidates(times);
  const n = times.length;
  const k = intervals.length;
  // Which intervals can hold each time, and which it could have shown itself in.
  const holds = times.map((t) => intervals.map((c) => (inside(c, t) ? 1 : 0)));
  const open = times.map((t) =>
    intervals.map((c) => (t.entered === undefined || startsAfter(c, t.entered) ? 1 : 0)),
  );
  let p: number[] = Array.from({ length: k }, () => 1 / k);
  let iterations = 0;
  let state = judge(p, holds, open);
  while (state.violation > tolerance && iterations < limit) {
    const p1 = step(p, holds, open);
    const p2 = step(p1, holds, open);
    iterations += 2;
    const jumped = extrapolate(p, p1, p2);
    const next = jumped === null ? p2 : step(jumped, holds, open);
    const at = judge(next, holds, open);
    const plain = judge(p2, holds, open);
    // The jump is kept only where it does not lose likelihood.
    [p, state] = at.logLikelihood >= plain.logLikelihood ? [next, at] : [p2, plain];
  }
  // What is on its way to nothing is put to nothing where the condition then still holds.
  const pruned = normalised(p.map((x) => (x < 1e-6 ? 0 : x)));
  const after = judge(pruned, holds, open);
  if (after.violation <= 10 * tolerance && Number.isFinite(after.logLikelihood)) {
    p = pruned;
    state = { ...after, violation: Math.min(after.violation, state.violation) };
  }
  return {
    steps: intervals
      .map((c, j) => ({ from: c.from, to: Number.isFinite(c.to) ? c.to : null, mass: p[j]! }))
      .filter((s) => s.mass > 0),
    logLikelihood: state.logLikelihood,
    converged: state.violation <= tolerance,
    stop: state.violation <= tolerance ? "gradient condition met" : "iterations used up",
    iterations,
    violation: state.violation,
  };

  function judge(q: readonly number[], inner: number[][], outer: number[][]) {
    let logLikelihood = 0;
    const gradient = new Array<number>(k).fill(0);
    for (let i = 0; i < n; i++) {
      const a = dot(inner[i]!, q);
      const b = dot(outer[i]!, q);
      logLikelihood += Math.log(a) - Math.log(b);
      for (let j = 0; j < k; j++) gradient[j]! += inner[i]![j]! / a - outer[i]![j]! / b;
    }
    return { logLikelihood, violation: Math.max(...gradient) / n };
  }
}

/** The probability of a time later than `t`; within an interval a bound on each side. */
export function turnbullSurvival(
  fit: Pick<TurnbullFit, "steps">,
  t: number,
): { readonly lower: number; readonly upper: number } {
  let surelyLater = 0;
  let maybeLater = 0;
  for (const s of fit.steps) {
    if (s.from >= t && !(s.from === s.to && s.from === t)) surelyLater += s.mass;
    if (s.to === null || s.to > t) maybeLater += s.mass;
  }
  return { lower: Math.min(1, surelyLater), upper: Math.min(1, maybeLater) };
}

interface Candidate {
  readonly from: number;
  readonly to: number;
}

/** Intervals whose left end is the left end of a time, whose right end is that of a time or of a
 * truncation, with no other end between. */
function candidates(times: readonly CensoredTime[]): Candidate[] {
  const ends: { at: number; open: number; left: boolean }[] = [];
  for (const t of times) {
    const by = t.by ?? Number.POSITIVE_INFINITY;
    ends.push({ at: t.after, open: t.after === by ? 0 : 1, left: true });
    ends.push({ at: by, open: 0, left: false });
    if (t.entered !== undefined) ends.push({ at: t.entered, open: 0, left: false });
  }
  ends.sort((a, b) => a.at - b.at || a.open - b.open || Number(b.left) - Number(a.left));
  const found: Candidate[] = [];
  for (let i = 0; i + 1 < ends.length; i++) {
    const a = ends[i]!;
    const b = ends[i + 1]!;
    if (a.left && !b.left) found.push({ from: a.at, to: b.at });
  }
  return found;
}

function inside(c: Candidate, t: CensoredTime): boolean {
  const by = t.by ?? Number.POSITIVE_INFINITY;
  const afterStart = t.after === by ? c.from === t.after && c.to === by : startsAfter(c, t.after);
  return afterStart && c.to <= by;
}

/** All of the candidate lies after `moment`. */
function startsAfter(c: Candidate, moment: number): boolean {
  return c.from > moment || (c.from === moment && c.to > moment);
}

function step(p: readonly number[], holds: number[][], open: number[][]): number[] {
  const next = new Array<number>(p.length).fill(0);
  for (let i = 0; i < holds.length; i++) {
    const a = dot(holds[i]!, p);
    const b = dot(open[i]!, p);
    for (let j = 0; j < p.length; j++)
      next[j]! += (holds[i]![j]! * p[j]!) / a + ((1 - open[i]![j]!) * p[j]!) / b;
  }
  return normalised(next);
}

function normalised(p: readonly number[]): number[] {
  const sum = p.reduce((x, y) => x + y, 0);
  return p.map((x) => x / sum);
}

function extrapolate(
  p0: readonly number[],
  p1: readonly number[],
  p2: readonly number[],
): number[] | null {
  let rr = 0;
  let vv = 0;
  for (let j = 0; j < p0.length; j++) {
    const r = p1[j]! - p0[j]!;
    const v = p2[j]! - p1[j]! - r;
    rr += r * r;
    vv += v * v;
  }
  if (!(vv > 0)) return null;
  const a = -Math.sqrt(rr / vv);
  if (a > -1) return null;
  const q = p0.map((x, j) => {
    const r = p1[j]! - x;
    const v = p2[j]! - p1[j]! - r;
    return Math.max(x - 2 * a * r + a * a * v, x * 1e-6);
  });
  const sum = q.reduce((x, y) => x + y, 0);
  return Number.isFinite(sum) && sum > 0 ? q.map((x) => x / sum) : null;
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let j = 0; j < a.length; j++) sum += a[j]! * b[j]!;
  return sum;
}

function check(times: readonly CensoredTime[]): void {
  times.forEach((t, i) => {
    const by = t.by ?? Number.POSITIVE_INFINITY;
    const exact = t.after === by;
    if (
      Number.isFinite(t.after) &&
      !Number.isNaN(by) &&
      by >= t.after &&
      (t.entered === undefined || t.entered < t.after || (!exact && t.entered <= t.after))
    )
      return;
    throw new UsageError({
      needed: "entered <= after <= by, with after finite",
      came: `time ${i + 1} is after ${t.after}, by ${t.by}, entered ${t.entered}`,
      where: "turnbull",
      todo: "A time already past at entry cannot be used under left truncation: leave it out and say so.",
    });
  });
  if (times.length === 0)
    throw new UsageError({
      needed: "at least one time",
      came: "none came",
      where: "turnbull",
      todo: "Check that anything was observed before calling.",
    });
}
