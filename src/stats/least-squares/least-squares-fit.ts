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
