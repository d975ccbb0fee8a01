import { UsageError } from "../../core/usage-error.js";

/** Which side of a distribution: at or below a value, or above it. */
export type Tail = "lower" | "upper";

/** Refuses a parameter of a distribution that must be positive. */
export function requirePositive(where: string, name: string, value: number): void {
  if (!(value > 0)) {
    throw new UsageError({
      needed: `${name} above 0`,
      came: `${name} was ${value}`,
      where,
      todo: `Give a positive ${name}.`,
    });
  }
}

/** Refuses a probability outside 0 to 1. `NaN` passes through as `NaN`. */
export function requireProbability(where: string, p: number): void {
  if (p < 0 || p > 1) {
    throw new UsageError({
      needed: "a probability between 0 and 1",
      came: `${p} came`,
      where,
      todo: "Give a share such as 0.975, not a percentage.",
    });
  }
}
