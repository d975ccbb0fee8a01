import {
  backSubstitute,
  columnPeak,
  dampedStep,
  dot,
  invertGram,
  leastOwnPart,
  promised,
  triangularise,
  whiten,
} from "./kernels.js";
import { giveBack, type Slot, takeMemory } from "./memory.js";

/**
 * A curve to be fitted: y_i is explained by value i at parameters theta.
 * The engine knows nothing about what it means.
 */
export interface LeastSquaresModel {
  /** Number of parameters p. */
  readonly parameters: number;
  /** Positions of parameters the model is linear in (they are then projected out). */
  readonly linear?: readonly number[];
  /**
   * Positions of parameters that are above zero by their nature. A step changes
   * them by a factor of 4 at most, so that they neither cross zero nor leap over
   * an optimum into a flat far region.
   */
  readonly positive?: readonly number[];
  /**
   * True when the value is the one linear parameter times something, so that
   * the other columns follow when it changes.
   */
  readonly homogeneous?: boolean;
  /**
   * Writes value i into `values[i]` and its derivative by parameter j into
   * `gradient[i * p + j]`. Returns false where theta lies outside the domain.
   */
  readonly evaluate: (theta: Float64Array, values: Float64Array, gradient: Float64Array) => boolean;
}

export interface LeastSquaresData {
  readonly y: ArrayLike<number>;
  /** Square roots of the weights, one a row; absent means equal weights. */
  readonly rootWeights?: ArrayLike<number>;
  /** Correlation of the error of row i with that of row i-1 (first entry unused). */
  readonly carry?: ArrayLike<number>;
}

export interface LeastSquaresOptions {
  readonly start: ArrayLike<number>;
  readonly lower?: ArrayLike<number>;
  readonly upper?: ArrayLike<number>;
  /** True where a parameter stays at its start. */
  readonly fixed?: ArrayLike<boolean>;
  /** Bates-Watts relative offset at which the fit counts as converged. Default 1e-10. */
  readonly tolerance?: number;
  /** Default 300. Running out is never success. */
  readonly maxIterations?: number;
  /** Damping of the first step relative to the column scales; 0 tries Gauss-Newton. Default 0. */
  readonly damping?: number;
}

/** Which criterion ended the iteration. Only the first three are convergence. */
export type LeastSquaresStop =
  /** The Bates-Watts relative offset fell below the tolerance. */
  | "relative-offset"
  /** No further fall of the gradient is possible in float64. */
  | "rounding"
  /** The residuals are zero to rounding. */
  | "exact-fit"
  /** No step shortens the residuals although the gradient is not zero (a kink or the edge of the domain). */
  | "no-progress"
  /** The residuals keep falling by next to nothing while parameters run off. */
  | "running-off"
  | "iterations"
  /** The model has no finite value at the start. */
  | "outside-domain"
  /** Fewer rows than free parameters. */
  | "too-few-rows";

export interface LeastSquaresFit {
  readonly theta: number[];
  /** Weighted (and whitened) residual sum of squares. */
  readonly rss: number;
  readonly converged: boolean;
  readonly stop: LeastSquaresStop;
  readonly iterations: number;
  readonly evaluations: number;
  /**
   * Bates-Watts relative offset (Technometrics 23, 1981, 179-183): length of the
   * residual vector's part in the tangent plane per parameter over that of the
   * rest per degree of freedom. `null` where the rest has no length.
   */
  readonly relativeOffset: number | null;
  /** Largest cosine between a gradient column and the residuals (dimensionless). */
  readonly gradientNorm: number;
  /** (J'WJ)^-1, p x p row-major, zero for fixed or bound-held parameters; `null` where singular. */
  readonly unscaledCovariance: number[] | null;
  /** Parameters held at a bound at the end. */
  readonly atBound: boolean[];
  /** How far each parameter's column is explained by the others: 1 / (1 - R^2); `null` when fixed. */
  readonly inflation: (number | null)[];
  /** Free parameters not held at a bound. */
  readonly freeCount: number;
  readonly values: number[];
}

/**
 * Least squares for a nonlinear model: Levenberg-Marquardt in the scale of the
 * gradient's columns, on a Householder QR of the gradient (never on J'J), with
 * linear parameters projected out (Kaufman's form of variable projection), and
 * bounds by an active set that is reconsidered at every step, so a parameter
 * that touched a bound can leave it.
 *
 * Sources: More, Lecture Notes in Mathematics 630 (1978) 105-116; Golub and
 * Pereyra, SIAM J Numer Anal 10 (1973) 413-432; Kaufman, BIT 15 (1975) 49-57.
 *
 * Never throws on ill-posed data: the stop reason says what happened.
 *
 * @example
 * // y = a exp(-b x) through exact points: stop is "exact-fit" or "rounding"
 * fitLeastSquares(model, { y }, { start: [1, 0.1] }).theta // [2, 0.3]
 */
export function fitLeastSquares(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  options: LeastSquaresOptions,
): LeastSquaresFit {
  const n = data.y.length;
  const p = model.parameters;
  const { lower, upper, fixed, tolerance = 1e-10, maxIterations = 300 } = options;
  const { y, rootWeights, carry } = data;
  const isPositive =
    model.positive && Array.from({ length: p }, (_, j) => model.positive!.includes(j));
  const bounded = lower !== undefined || upper !== undefined;
  const low = (j: number) => (lower === undefined ? -Infinity : lower[j]!);
  const high = (j: number) => (upper === undefined ? Infinity : upper[j]!);

  // Linear parameters first, then the others; fixed ones are left out.
  const order: number[] = [];
  const isLinear = (j: number) =>
    model.linear?.includes(j) === true && low(j) === -Infinity && high(j) === Infinity;
  for (let j = 0; j < p; j++) if (fixed?.[j] !== true && isLinear(j)) order.push(j);
  const linear = order.length;
  for (let j = 0; j < p; j++) if (fixed?.[j] !== true && !isLinear(j)) order.push(j);
  const m = order.length;
  const curved = m - linear;

  if (n < m) return failedFit(plainArray(options.start), p, m, 0, n, "too-few-rows");

  const memory = takeMemory(n, p, m);
  let { values, gradient, residual, theta } = memory.here;
  let trial = memory.there;
  const { a, b, linearA, linearB, step, scale, free, work, side, solution } = memory;
  let evaluations = 0;

  const evaluate = (
    at: Float64Array,
    outValues: Float64Array,
    outGradient: Float64Array,
    outResidual: Float64Array,
  ): number => {
    evaluations++;
    if (!model.evaluate(at, outValues, outGradient)) return Number.NaN;
    for (let i = 0; i < n; i++) outResidual[i] = y[i]! - outValues[i]!;
    if (rootWeights !== undefined) {
      for (let i = 0; i < n; i++) {
        const w = rootWeights[i]!;
        outResidual[i]! *= w;
        for (let j = 0; j < p; j++) outGradient[i * p + j]! *= w;
      }
    }
    if (carry !== undefined) whiten(outResidual, outGradient, carry, n, p);
    // A gradient that is not finite makes its sum not finite.
    let check = 0;
    for (let k = 0; k < n * p; k++) check += outGradient[k]!;
    return check * 0 === 0 ? dot(outResidual, 0, outResidual, 0, n) : Number.NaN;
  };

  /**
   * Puts the linear parameters at their best for the others, and the residuals
   * with them; returns true when the values and gradient must be computed anew.
   */
  const homogeneous = model.homogeneous === true && linear === 1;
  const projectLinear = (slot: Slot): boolean => {
    if (homogeneous) {
      const j = order[0]!;
      const { residual: r, gradient: g, values: v, theta: at } = slot;
      let top = 0;
      let bottom = 0;
      for (let i = 0, k = j; i < n; i++, k += p) {
        top += g[k]! * r[i]!;
        bottom += g[k]! * g[k]!;
      }
      const change = bottom > 0 ? top / bottom : 0;
      if (change === 0) return false;
      const before = at[j]!;
      const factor = (before + change) / before;
      at[j] = before + change;
      if (!Number.isFinite(factor) || Math.abs(factor) < 1e-8) return true;
      for (let i = 0, k = 0; i < n; i++) {
        r[i]! -= change * g[k + j]!;
        v[i]! *= factor;
        for (let c = 0; c < p; c++, k++) if (c !== j) g[k]! *= factor;
      }
      return false;
    }
    for (let c = 0; c < linear; c++) {
      const j = order[c]!;
      for (let i = 0; i < n; i++) linearA[c * n + i] = slot.gradient[i * p + j]!;
    }
    linearB.set(slot.residual);
    triangularise(linearA, n, linear, linearB);
    backSubstitute(linearA, n, linear, linearB, solution);
    let moved = false;
    for (let c = 0; c < linear; c++) {
      const j = order[c]!;
      const change = solution[c]!;
      if (Math.abs(change) > 1e-12 * Math.abs(slot.theta[j]!)) moved = true;
      slot.theta[j]! += change;
      for (let i = 0; i < n; i++) slot.residual[i]! -= change * slot.gradient[i * p + j]!;
    }
    return moved;
  };

  for (let j = 0; j < p; j++) {
    const start = options.start[j]!;
    theta[j] = fixed?.[j] === true ? start : Math.min(high(j), Math.max(low(j), start));
  }
  let rss = evaluate(theta, values, gradient, residual);
  let ySquare = 0;
  for (let i = 0; i < n; i++) {
    const each = y[i]! * (rootWeights === undefined ? 1 : rootWeights[i]!);
    ySquare += each * each;
  }
  if (!Number.isFinite(rss)) {
    const at = plainArray(theta);
    giveBack(memory);
    return failedFit(at, p, m, evaluations, n, "outside-domain");
  }
  if (linear > 0) {
    const again = projectLinear({ values, gradient, residual, theta })
      ? evaluate(theta, values, gradient, residual)
      : dot(residual, 0, residual, 0, n);
    if (Number.isFinite(again)) rss = again;
  }

  let damping = options.damping ?? 0;
  let iterations = 0;
  let stop: LeastSquaresStop = "iterations";
  let offset = Number.POSITIVE_INFINITY;
  let lastOffset = Number.POSITIVE_INFINITY;
  let stuck = 0;
  let flat = 0;
  let tenAgo = Number.POSITIVE_INFINITY;
  scale.fill(0);
  const rounding = 4 * Number.EPSILON * Math.sqrt(ySquare);

  for (;;) {
    // Triangularise the gradient at the current point.
    for (let c = 0; c < m; c++) {
      const j = order[c]!;
      for (let i = 0; i < n; i++) a[c * n + i] = gradient[i * p + j]!;
    }
    b.set(residual);
    triangularise(a, n, m, b);

    // Which parameters rest on a bound that the gradient still presses against.
    let held = 0;
    for (let c = 0; c < curved; c++) {
      free[c] = 1;
      if (!bounded) continue;
      const j = order[linear + c]!;
      const at = theta[j]!;
      if (at > low(j) && at < high(j)) continue;
      let pull = 0;
      for (let i = 0; i < n; i++) pull += gradient[i * p + j]! * residual[i]!;
      if ((at <= low(j) && pull <= 0) || (at >= high(j) && pull >= 0)) {
        free[c] = 0;
        held++;
      }
    }
    for (let c = 0; c < curved; c++) {
      let square = 0;
      for (let i = 0; i <= c; i++) {
        const each = a[(linear + c) * n + linear + i] ?? 0;
        square += each * each;
      }
      const norm = Math.sqrt(square);
      // A column that shrank a lot (a flat far region) must not be damped by its past.
      scale[c] = norm > 0.1 * scale[c]! ? Math.max(norm, scale[c]!) : norm;
      if (scale[c] === 0) scale[c] = 1;
    }

    // Bates-Watts relative offset.
    let tangent = 0;
    if (held === 0) {
      // A column that is zero or a copy spans nothing of the tangent plane.
      for (let c = 0; c < m; c++) {
        const own = Math.abs(a[c * n + c]!);
        if (own > 0 && own > 1e-15 * columnPeak(a, n, c)) tangent += b[c]! * b[c]!;
      }
    } else {
      for (let c = 0; c < linear; c++) tangent += b[c]! * b[c]!;
      dampedStep(a, n, linear, curved, b, free, 0, scale, step, work, side, solution);
      tangent += promised(a, n, linear, curved, b, step);
    }
    const active = m - held;
    const rest = Math.max(0, rss - tangent);
    offset =
      n > active && active > 0
        ? Math.sqrt(tangent / active) / Math.sqrt(rest / (n - active))
        : active === 0
          ? 0
          : Number.POSITIVE_INFINITY;
    if (offset <= tolerance) {
      stop = "relative-offset";
      break;
    }
    if (Math.sqrt(tangent) <= rounding) {
      stop = rss <= 1e-24 * ySquare ? "exact-fit" : "rounding";
      break;
    }
    if (offset < 1e-5 && offset > 0.95 * lastOffset) {
      // Within rounding the gradient no longer falls: the floor of float64.
      if (++stuck >= 3) {
        stop = "rounding";
        break;
      }
    }
    lastOffset = Math.min(lastOffset, offset);
    if (iterations >= maxIterations) {
      stop = "iterations";
      break;
    }
    iterations++;

    // Damped steps from here until one shortens the residuals.
    let accepted = false;
    let linearPart = 0;
    for (let c = 0; c < linear; c++) linearPart += b[c]! * b[c]!;
    for (let attempt = 0; attempt < 40; attempt++) {
      dampedStep(a, n, linear, curved, b, free, damping, scale, step, work, side, solution);
      let length = 0;
      trial.theta.set(theta);
      for (let c = 0; c < curved; c++) {
        const j = order[linear + c]!;
        let to = theta[j]! + step[c]!;
        if (isPositive?.[j] === true) to = Math.min(4 * theta[j]!, Math.max(theta[j]! / 4, to));
        if (bounded) to = Math.min(high(j), Math.max(low(j), to));
        step[c] = to - theta[j]!;
        trial.theta[j] = to;
        length = Math.max(length, Math.abs(step[c]!) / (Math.abs(to) + 1e-300));
      }
      const hope = linearPart + promised(a, n, linear, curved, b, step);
      for (let c = linear - 1; c >= 0; c--) {
        let sum = b[c]!;
        for (let k = 0; k < curved; k++) sum -= a[(linear + k) * n + c]! * step[k]!;
        for (let k = c + 1; k < linear; k++) sum -= a[k * n + c]! * solution[k]!;
        const diagonal = a[c * n + c]!;
        solution[c] = diagonal === 0 ? 0 : sum / diagonal;
        trial.theta[order[c]!]! += solution[c]!;
      }
      let trialRss = evaluate(trial.theta, trial.values, trial.gradient, trial.residual);
      if (linear > 0 && curved > 0 && Number.isFinite(trialRss)) {
        trialRss = projectLinear(trial)
          ? evaluate(trial.theta, trial.values, trial.gradient, trial.residual)
          : dot(trial.residual, 0, trial.residual, 0, n);
      }
      const ratio = hope > 0 ? (rss - trialRss) / hope : 0;
      // When the promised fall is below what the sums can resolve, only require no rise.
      const fine = hope <= 1e-9 * rss || rss <= 1e-24 * ySquare;
      if (Number.isFinite(trialRss) && (ratio > 1e-3 || (fine && trialRss <= rss * (1 + 1e-9)))) {
        if (!fine) {
          if (ratio > 0.75) damping = damping > 1e-7 ? damping / 10 : 0;
          else if (ratio < 0.25) damping = Math.max(1e-4, damping * 4);
          flat = rss - trialRss <= 1e-9 * rss && offset > 1e-4 ? flat + 1 : 0;
        } else damping = damping > 1e-7 ? damping / 10 : 0;
        const kept: Slot = { values, gradient, residual, theta };
        ({ values, gradient, residual, theta } = trial);
        trial = kept;
        rss = trialRss;
        accepted = true;
        break;
      }
      if (length <= 1e-15) break;
      damping = damping === 0 ? 1e-3 : damping * (attempt < 3 ? 5 : 25);
      if (damping > 1e20) break;
    }
    if (!accepted) {
      stop = rss <= 1e-24 * ySquare ? "exact-fit" : offset <= 1e-5 ? "rounding" : "no-progress";
      break;
    }
    if (iterations % 10 === 0) {
      // Columns that cannot be told apart while the residuals hardly fall: the
      // parameters are on their way to infinity.
      if (offset > 1e-3 && rss > tenAgo * (1 - 1e-3) && leastOwnPart(a, n, m) < 1e-6) flat = 8;
      tenAgo = rss;
    }
    if (flat >= 8) {
      stop = "running-off";
      break;
    }
  }

  // Covariance and collinearity at the end.
  let unscaled: number[] | null = new Array<number>(p * p).fill(0);
  const inflation = new Array<number | null>(p).fill(null);
  const atBound = new Array<boolean>(p).fill(false);
  let gradientNorm = 0;
  const rootRss = Math.sqrt(rss);
  const kept: number[] = [];
  for (let c = 0; c < m; c++) {
    const j = order[c]!;
    if (c >= linear && free[c - linear] === 0) atBound[j] = true;
    else {
      kept.push(j);
      let dot = 0;
      let square = 0;
      for (let i = 0; i < n; i++) {
        const g = gradient[i * p + j]!;
        dot += g * residual[i]!;
        square += g * g;
      }
      if (square > 0 && rootRss > 0) {
        gradientNorm = Math.max(gradientNorm, Math.abs(dot) / (Math.sqrt(square) * rootRss));
      }
    }
  }
  const k = kept.length;
  if (k < m) {
    for (let c = 0; c < k; c++) {
      for (let i = 0; i < n; i++) a[c * n + i] = gradient[i * p + kept[c]!]!;
    }
    triangularise(a, n, k, b);
  }
  const inverse = memory.inverse;
  if (n >= k && invertGram(a, n, k, inverse, work)) {
    for (let c = 0; c < k; c++) {
      const j = kept[c]!;
      let square = 0;
      for (let i = 0; i < n; i++) square += gradient[i * p + j]! * gradient[i * p + j]!;
      inflation[j] = square * inverse[c * k + c]!;
      for (let d = 0; d < k; d++) unscaled[j * p + kept[d]!] = inverse[c * k + d]!;
    }
  } else if (k > 0) unscaled = null;
  const result: LeastSquaresFit = {
    theta: plainArray(theta),
    rss,
    converged: stop === "relative-offset" || stop === "rounding" || stop === "exact-fit",
    stop,
    iterations,
    evaluations,
    relativeOffset: Number.isFinite(offset) ? offset : null,
    gradientNorm,
    unscaledCovariance: unscaled,
    atBound,
    inflation,
    freeCount: k,
    values: plainArray(values, n),
  };
  giveBack(memory);
  return result;
}

function failedFit(
  theta: number[],
  p: number,
  freeCount: number,
  evaluations: number,
  n: number,
  stop: LeastSquaresStop,
): LeastSquaresFit {
  return {
    theta,
    rss: Number.POSITIVE_INFINITY,
    converged: false,
    stop,
    iterations: 0,
    evaluations,
    relativeOffset: null,
    gradientNorm: Number.POSITIVE_INFINITY,
    unscaledCovariance: null,
    atBound: new Array<boolean>(p).fill(false),
    inflation: new Array<number | null>(p).fill(null),
    freeCount,
    values: new Array<number>(n).fill(0),
  };
}

/** A plain array of the same numbers (a loop: `Array.from` walks the iterator). */
export function plainArray(x: ArrayLike<number>, length = x.length): number[] {
  const out = new Array<number>(length);
  for (let i = 0; i < length; i++) out[i] = x[i]!;
  return out;
}
