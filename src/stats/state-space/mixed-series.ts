import { SeriesRun } from "./series-run.js";
import type { TimeStep, WanderingParameters } from "./wandering-slope.js";

/** The values of one series so far, and where the filter of every set of parameters stands. */
export class MixedSeries {
  count = 0;
  first = Number.NaN;
  time: number[] = [];
  /** Values less the first one. */
  value: number[] = [];
  variance: number[] = [];
  /** Step that led to each value. */
  step: TimeStep[] = [];
  serves: boolean[] = [];
  /** Basis of the mean at the first value, and less it, `width` for each value. */
  origin: Float64Array = new Float64Array(0);
  basis: number[] = [];
  low = 0;
  high = 0;
  /** Null once nothing more will come. */
  covariance: Float64Array | null = null;
  state: Float64Array | null = null;

  /** False once a value was appended that does not serve, or that serves no more. */
  allServe = true;
  /** Runs of the sets of parameters looked at of late, to be continued with the next value. */
  runs = new Map<number, SeriesRun>();

  /** The whole series filtered with one set of parameters: only what is new is stepped through. */
  runOf(k: number, p: WanderingParameters, width: number): SeriesRun {
    let run = this.runs.get(k);
    if (run === undefined) {
      run = new SeriesRun(width);
      this.runs.set(k, run);
    }
    run.readOn(this, p);
    return run;
  }

  /** The same values, to be gone on with apart; a closed one is the same for all. */
  copy(): MixedSeries {
    if (this.state === null && this.count > 0) return this;
    const other = new MixedSeries();
    other.count = this.count;
    other.first = this.first;
    other.time = this.time.slice();
    other.value = this.value.slice();
    other.variance = this.variance.slice();
    other.step = this.step.slice();
    other.serves = this.serves.slice();
    other.origin = this.origin;
    other.basis = this.basis.slice();
    other.low = this.low;
    other.high = this.high;
    other.covariance = this.covariance?.slice() ?? null;
    other.state = this.state?.slice() ?? null;
    other.allServe = this.allServe;
    return other;
  }

  /** No more values will come: what only a next one needs is let go of. */
  close(): void {
    this.covariance = null;
    this.state = null;
    this.runs.clear();
  }
}
