import type { Notice } from "./notice.js";

/**
 * The envelope of every result: plain, readonly, JSON-safe data. No class
 * instance, `Date`, `Map`, typed array or `NaN` inside; a number that could not
 * be computed is `null` and a notice says why.
 */
export interface Result<Kind extends string, Value> {
  /** The name of the file that made it, e.g. `"fit-curve"`. */
  readonly kind: Kind;
  /** Version of the shape of `value`, raised when it changes. */
  readonly schema: number;
  readonly value: Value;
  readonly method: Method;
  readonly basis: Basis;
  /** Numbers about how the computation went (iterations, condition, ...). */
  readonly diagnostics: Readonly<Record<string, unknown>>;
  readonly notices: readonly Notice[];
}

/** How it was computed: every option after defaults, and what to cite. */
export interface Method {
  readonly name: string;
  readonly options: Readonly<Record<string, unknown>>;
  readonly citations: readonly string[];
}

/** What it was computed from: how much was used, and what was left out and why. */
export interface Basis {
  readonly used: number;
  readonly leftOut: readonly LeftOut[];
  /** What one counted thing is: "weighings", "animals", "feeding days". */
  readonly of: string;
}

export interface LeftOut {
  readonly reason: string;
  readonly count: number;
}
