import { type CensoredTime, requireCensoredTimes } from "./censored-time.js";
import { canHold, couldShow, turnbullCandidates } from "./turnbull-candidates.js";

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
  /** How often each time counts, at least 0 and not all 0. Default once. */
  readonly weights?: readonly number[];
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
  given: readonly CensoredTime[],
  options: TurnbullOptions = {},
): TurnbullFit {
  requireCensoredTimes("turnbull", given, options.weights);
  const tolerance = options.tolerance ?? 1e-8;
  const limit = options.maximumIterations ?? 20_000;
  const counted = given
    .map((time, i) => ({ time, weight: options.weights?.[i] ?? 1 }))
    .filter((each) => each.weight > 0);
  const times = counted.map((each) => each.time);
  const weights = counted.map((each) => each.weight);
  const intervals = turnbullCandidates(times);
  const data: Likelihood = {
    weights,
    // Which intervals can hold each time, and which it could have shown itself in.
    holds: times.map((t) => intervals.map((c) => (canHold(c, t) ? 1 : 0))),
    open: times.map((t) => intervals.map((c) => (couldShow(c, t) ? 1 : 0))),
  };
  let p: number[] = Array.from({ length: intervals.length }, () => 1 / intervals.length);
  let iterations = 0;
  let state = judge(p, data);
  while (state.violation > tolerance && iterations < limit) {
    const p1 = step(p, data);
    const p2 = step(p1, data);
    iterations += 2;
    const jumped = extrapolate(p, p1, p2);
    const next = jumped === null ? p2 : step(jumped, data);
    const at = judge(next, data);
    const plain = judge(p2, data);
    // The jump is kept only where it does not lose likelihood.
    [p, state] = at.logLikelihood >= plain.logLikelihood ? [next, at] : [p2, plain];
  }
  // What is on its way to nothing is put to nothing where the condition then still holds.
  const pruned = normalised(p.map((x) => (x < 1e-6 ? 0 : x)));
  const after = judge(pruned, data);
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
}

interface Likelihood {
  readonly weights: readonly number[];
  readonly holds: readonly (readonly number[])[];
  readonly open: readonly (readonly number[])[];
}

/** The log-likelihood, and by how much the first-order condition fails, per observation. */
function judge(p: readonly number[], { weights, holds, open }: Likelihood) {
  let logLikelihood = 0;
  let total = 0;
  const gradient = new Array<number>(p.length).fill(0);
  for (let i = 0; i < weights.length; i++) {
    const w = weights[i]!;
    const inner = holds[i]!;
    const outer = open[i]!;
    const a = dot(inner, p);
    const b = dot(outer, p);
    total += w;
    logLikelihood += w * (Math.log(a) - Math.log(b));
    for (let j = 0; j < p.length; j++) gradient[j]! += w * (inner[j]! / a - outer[j]! / b);
  }
  return { logLikelihood, violation: Math.max(...gradient) / total };
}

/** One self-consistency step: each time's probability goes where it could have come from. */
function step(p: readonly number[], { weights, holds, open }: Likelihood): number[] {
  const next = new Array<number>(p.length).fill(0);
  for (let i = 0; i < weights.length; i++) {
    const w = weights[i]!;
    const inner = holds[i]!;
    const outer = open[i]!;
    const a = w / dot(inner, p);
    const b = w / dot(outer, p);
    for (let j = 0; j < p.length; j++)
      next[j]! += inner[j]! * p[j]! * a + (1 - outer[j]!) * p[j]! * b;
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
