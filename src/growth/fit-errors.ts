import { requireList } from "../core/require-numbers.js";
import { UsageError } from "../core/usage-error.js";

/**
 * How exact each weighing is. Two things that must never be mixed up, so they
 * are two types and a bare array is refused:
 * - known errors: the standard deviation of each mass is known in the unit of
 *   mass (a checked scale); standard errors then use them as they are;
 * - relative weights: only the ratios are known; the residuals give the scale.
 */
export type FitErrors = KnownErrors | RelativeWeights;

export interface KnownErrors {
  readonly kind: "known-errors";
  /** Standard deviation of each mass, in the unit of mass. */
  readonly sd: readonly number[];
}

export interface RelativeWeights {
  readonly kind: "relative-weights";
  /** Weight of each mass, proportional to 1 / variance. */
  readonly weights: readonly number[];
}

/** Standard deviations known in the unit of mass. @example knownErrors([5, 5, 10]) */
export function knownErrors(sd: readonly number[]): KnownErrors {
  requireList("knownErrors", "standard deviations", sd);
  return { kind: "known-errors", sd };
}

/** Weights of which only the ratios count. @example relativeWeights([1, 1, 0.25]) */
export function relativeWeights(weights: readonly number[]): RelativeWeights {
  requireList("relativeWeights", "weights", weights);
  return { kind: "relative-weights", weights };
}

/** Checks what came as `errors`; a bare array has two meanings and is refused. */
export function checkErrors(errors: unknown, rows: number, where: string): FitErrors | undefined {
  if (errors === undefined || errors === null) return undefined;
  const bare = Array.isArray(errors) || ArrayBuffer.isView(errors);
  const given = errors as FitErrors;
  const list =
    given.kind === "known-errors"
      ? given.sd
      : given.kind === "relative-weights"
        ? given.weights
        : undefined;
  if (list === undefined) {
    throw new UsageError({
      needed: "knownErrors([...]) or relativeWeights([...])",
      came: bare ? "a bare array came, which could mean either" : "something else came",
      where,
      todo: "Say which: knownErrors(sd), in the unit of mass, or relativeWeights(w), of which only ratios count.",
    });
  }
  if (list.length !== rows) {
    throw new UsageError({
      needed: `${rows} errors, one for each mass in the same order`,
      came: `${list.length} came`,
      where,
      todo: "Give one number for each mass.",
    });
  }
  return given;
}
