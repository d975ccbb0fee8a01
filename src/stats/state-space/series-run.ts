import {
  carryCovariance,
  covarianceFields,
  gainFields,
  startCovariance,
  type TimeStep,
  takeIn,
  type WanderingParameters,
} from "./wandering-slope.js";

// Read in the innermost loops: as constants of this module.
const covariances = covarianceFields;
const gainsEach = gainFields;
const roomFor = 16;

/** What a run reads of a series. */
export interface FilteredValues {
  readonly count: number;
  readonly value: readonly number[];
  readonly variance: readonly number[];
  readonly step: readonly TimeStep[];
  /** Basis of the mean, `width` for each value, and the span of its columns that have moved. */
  readonly basis: readonly number[];
  readonly low: number;
  readonly high: number;
}

/**
 * One series filtered with one set of parameters, value by value: a run that is read on
 * after another value takes one more step and is the same as one from the first value.
 */
export class SeriesRun {
  /** Values taken in so far. */
  count = 0;
  gains: Float64Array = new Float64Array(0);
  /** Per value: standardised innovations of the basis columns, then of the values. */
  rows: Float64Array = new Float64Array(0);
  private readonly covariance = new Float64Array(covariances);
  private readonly state: Float64Array;

  constructor(readonly width: number) {
    this.state = new Float64Array(4 * (width + 1));
  }

  /** Forgets what was taken in, to be used for another set of parameters. */
  beginAnew(): void {
    this.count = 0;
    this.state.fill(0);
  }

  /**
   * Takes in the values that it has not seen. Columns of the basis that have not moved
   * yet are zero in every row, so that a span which widens later changes nothing here.
   */
  readOn(s: FilteredValues, p: WanderingParameters): void {
    const { width } = this;
    const stride = width + 1;
    if (this.rows.length < s.count * stride) {
      // Some twenty runs of a series are kept: little room more than is needed.
      this.rows = longer(this.rows, (s.count + roomFor) * stride);
      this.gains = longer(this.gains, (s.count + roomFor) * gainsEach);
    }
    if (this.count === 0) startCovariance(p, this.covariance, 0);
    const { rows, gains, state: x, covariance } = this;
    const { low, high, basis } = s;
    for (let j = this.count; j < s.count; j++) {
      const step = s.step[j]!;
      if (j > 0) carryCovariance(p, step, covariance, 0);
      const g = j * gainsEach;
      takeIn(p, s.variance[j]!, covariance, 0, gains, g);
      const ka = gains[g]!;
      const kb = gains[g + 1]!;
      const kw = gains[g + 2]!;
      const ku = gains[g + 3]!;
      const root = gains[g + 4]!;
      const c1 = step.scale * step.dt;
      const c2 = step.scale * step.reach;
      const { keepOwn, keepWander, keepLasting } = step;
      for (let c = low; c <= high; c++) {
        const i = c < high ? c : width;
        let xa = x[i]!;
        let xb = x[stride + i]!;
        let xw = x[2 * stride + i]!;
        let xu = x[3 * stride + i]!;
        if (j > 0) {
          xa += c1 * xb + c2 * xw;
          xb *= keepOwn;
          xw *= keepWander;
          xu *= keepLasting;
        }
        const v = (i < width ? basis[j * width + i]! : s.value[j]!) - xa - xu;
        x[i] = xa + ka * v;
        x[stride + i] = xb + kb * v;
        x[2 * stride + i] = xw + kw * v;
        x[3 * stride + i] = xu + ku * v;
        rows[j * stride + i] = v * root;
      }
    }
    this.count = s.count;
  }
}

function longer(before: Float64Array, length: number): Float64Array {
  const out = new Float64Array(length);
  out.set(before);
  return out;
}
