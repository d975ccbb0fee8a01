export interface ErrorsInVariablesData {
  readonly response: readonly number[];
  /** Fixed columns; the one at `noisy` is measured with error. */
  readonly names: readonly string[];
  readonly columns: readonly (readonly number[])[];
  readonly noisy: number;
  /** Variance of that error in each row, or an unbiased estimate of it. */
  readonly errorVariance: readonly number[];
  readonly group: readonly string[];
  /** Column whose coefficient varies between groups. */
  readonly random: readonly number[];
}
