import { listOf } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { findRoot } from "../numeric/find-root.js";
import { type IncrementLaw, normalIncrement } from "./increment-law.js";
import { averageRunLength } from "./run-length-equation.js";

export interface CusumSettings {
  /** Allowance k: half the shift to be found, in standard deviations. */
  readonly allowance: number;
  /** Decision limit h, in standard deviations. */
  readonly limit: number;
  /** Starting value of the sums (fast initial response: limit / 2). Default 0. */
  readonly start?: number;
}

export interface CusumPoint {
  readonly value: number | null;
  readonly upper: number;
  readonly lower: number;
  readonly signal: "up" | "down" | null;
}

/**
 * Two-sided cumulative sums of standardised observations: upper = max(0, upper + z
 * - k), lower = max(0, lower - z - k); a signal when one exceeds h. A missing
 * observation leaves the sums as they are. With `restart` the sums begin again
 * after a signal.
 *
 * @throws UsageError when the settings are not above 0.
 * @example cusumChart([2, 2, 2], { allowance: 0.5, limit: 4 }).at(-1)?.signal // "up"
 */
export function cusumChart(
  standardised: Iterable<number | null>,
  settings: CusumSettings,
  options: { readonly restart?: boolean } = {},
): CusumPoint[] {
  requireSettings("cusumChart", settings);
  const { allowance, limit, start = 0 } = settings;
  let upper = start;
  let lower = start;
  const out: CusumPoint[] = [];
  for (const z of listOf("cusumChart", "standardised values", standardised)) {
    if (typeof z !== "number" || !Number.isFinite(z)) {
      out.push({ value: null, upper, lower, signal: null });
      continue;
    }
    upper = Math.max(0, upper + z - allowance);
    lower = Math.max(0, lower - z - allowance);
    const signal = upper > limit ? "up" : lower > limit ? "down" : null;
    out.push({ value: z, upper, lower, signal });
    if (signal !== null && options.restart === true) {
      upper = start;
      lower = start;
    }
  }
  return out;
}

/**
 * Average number of observations until a one-sided (upper) cumulative sum signals
 * when the mean is off by `shift` standard deviations, from the integral equation.
 *
 * @example cusumRunLength({ allowance: 0.5, limit: 4 }, 1) // 8.383202129749934
 */
export function cusumRunLength(
  settings: CusumSettings,
  shift = 0,
  law: IncrementLaw = normalIncrement(shift),
): number {
  requireSettings("cusumRunLength", settings);
  const { allowance, limit, start = 0 } = settings;
  return averageRunLength(
    { low: 0, high: limit, slope: 1, gain: 1, drift: -allowance, reflects: true },
    law,
    start,
  );
}

/**
 * The same for the two-sided chart started at 0: 1 / L = 1 / L(up) + 1 / L(down).
 * Exact for normal observations; the chart must not start at a head start.
 *
 * @example twoSidedCusumRunLength({ allowance: 0.5, limit: 5 }) // 465.444
 */
export function twoSidedCusumRunLength(settings: CusumSettings, shift = 0): number {
  if ((settings.start ?? 0) !== 0) {
    throw new UsageError({
      needed: "both sums starting at 0",
      came: `start ${settings.start}`,
      where: "twoSidedCusumRunLength",
      todo: "Take the one-sided run length for a head start.",
    });
  }
  const up = cusumRunLength(settings, shift);
  const down = cusumRunLength(settings, -shift);
  return 1 / (1 / up + 1 / down);
}

/**
 * The limit h at which the in-control two-sided run length is `runLength`.
 *
 * @example cusumLimitFor(0.5, 465) // 4.99906
 */
export function cusumLimitFor(allowance: number, runLength: number): number {
  const off = (limit: number) =>
    Math.log(Math.min(1e13, twoSidedCusumRunLength({ allowance, limit }))) - Math.log(runLength);
  const root = findRoot(off, 0.05, 20 / Math.max(allowance, 0.25), { tolerance: 1e-9 });
  if (root.converged) return root.x;
  throw new UsageError({
    needed: "a run length a chart with this allowance can reach",
    came: `${runLength} with allowance ${allowance}`,
    where: "cusumLimitFor",
    todo: "Choose a run length above 2 and an allowance between 0.1 and 2.",
  });
}

function requireSettings(where: string, { allowance, limit, start = 0 }: CusumSettings): void {
  if (allowance >= 0 && limit > 0 && start >= 0 && start <= limit) return;
  throw new UsageError({
    needed: "allowance of 0 or more, a limit above 0, a start from 0 to the limit",
    came: `allowance ${allowance}, limit ${limit}, start ${start}`,
    where,
    todo: "Usual values: allowance 0.5, limit 4 or 5, in standard deviations.",
  });
}
