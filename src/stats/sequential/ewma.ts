import { listOf } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { type IncrementLaw, normalIncrement } from "./increment-law.js";
import { averageRunLength } from "./run-length-equation.js";

export interface EwmaSettings {
  /** Weight of the newest observation, above 0 and at most 1. */
  readonly weight: number;
  /** Width L of the limits in standard deviations of the average. */
  readonly width: number;
}

export interface EwmaPoint {
  readonly value: number | null;
  readonly average: number;
  readonly lower: number;
  readonly upper: number;
  readonly signal: "up" | "down" | null;
}

/**
 * Exponentially weighted moving average of standardised observations, started at
 * 0, with limits that widen to their asymptote (`limits: "exact"`, default) or
 * stand there from the beginning. A missing observation leaves the average as it
 * is and does not widen the limits.
 *
 * @example ewmaChart([0, 1, 3], { weight: 0.2, width: 2.7 })[2].average // 0.76
 */
export function ewmaChart(
  standardised: Iterable<number | null>,
  settings: EwmaSettings,
  options: { readonly limits?: "exact" | "asymptotic" } = {},
): EwmaPoint[] {
  requireSettings("ewmaChart", settings);
  const { weight, width } = settings;
  const asymptote = width * Math.sqrt(weight / (2 - weight));
  let average = 0;
  let seen = 0;
  return listOf("ewmaChart", "standardised values", standardised).map((z): EwmaPoint => {
    const usable = typeof z === "number" && Number.isFinite(z);
    if (usable) {
      seen++;
      average = weight * z + (1 - weight) * average;
    }
    const reach =
      options.limits === "asymptotic"
        ? asymptote
        : asymptote * Math.sqrt(-Math.expm1(2 * seen * Math.log1p(-weight)));
    const signal = !usable ? null : average > reach ? "up" : average < -reach ? "down" : null;
    return { value: usable ? z : null, average, lower: -reach, upper: reach, signal };
  });
}

/**
 * Average number of observations until the two-sided chart with asymptotic limits
 * signals when the mean is off by `shift` standard deviations, started at 0.
 *
 * @example ewmaRunLength({ weight: 0.1, width: 2.814 }, 1) // 10.33
 */
export function ewmaRunLength(
  settings: EwmaSettings,
  shift = 0,
  law: IncrementLaw = normalIncrement(shift),
): number {
  requireSettings("ewmaRunLength", settings);
  const { weight, width } = settings;
  const limit = width * Math.sqrt(weight / (2 - weight));
  return averageRunLength(
    { low: -limit, high: limit, slope: 1 - weight, gain: weight, drift: 0, reflects: false },
    law,
    0,
  );
}

function requireSettings(where: string, { weight, width }: EwmaSettings): void {
  if (weight > 0 && weight <= 1 && width > 0) return;
  throw new UsageError({
    needed: "a weight above 0 and at most 1, and a width above 0",
    came: `weight ${weight}, width ${width}`,
    where,
    todo: "Usual values: weight 0.2, width 2.96.",
  });
}
