import { sharedDigits } from "../nist-strd/read-certified-data.js";

/** One number of this library beside the same number from outside it. */
export interface Comparison {
  /** Who says so: certified values, other software with its version, a handbook. */
  readonly source: string;
  /** The method or the data set. */
  readonly what: string;
  readonly quantity: string;
  readonly expected: number;
  readonly got: number;
}

/** Leading digits in which both agree, at most 15: -log10 of the relative error. */
export function digitsOf({ got, expected }: Comparison): number {
  return Number.isFinite(got) ? Math.max(0, sharedDigits(got, expected)) : 0;
}

/** Collects the comparisons of one source. */
export function comparisonsOf(source: string) {
  const all: Comparison[] = [];
  return {
    all,
    add: (what: string, quantity: string, expected: number, got: number | null | undefined) => {
      all.push({ source, what, quantity, expected, got: got ?? Number.NaN });
    },
  };
}
