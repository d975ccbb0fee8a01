import { requireList } from "../../core/require-numbers.js";
import type {
  LeastSquaresData,
  LeastSquaresModel,
  LeastSquaresOptions,
} from "./least-squares-fit.js";

/** One fit as the search sees it: rows, and free parameters in an order of its own. */
export interface Problem {
  readonly model: LeastSquaresModel;
  readonly data: LeastSquaresData;
  /** Rows. */
  readonly n: number;
  /** Parameters of the model. */
  readonly p: number;
  /** Free parameters: `linear` of them are projected out, `curved` are searched for. */
  readonly m: number;
  readonly linear: number;
  readonly curved: number;
  /** Positions of the free parameters, those projected out first. */
  readonly order: readonly number[];
  /** True by position where a parameter is above zero by its nature; absent when none is. */
  readonly isPositive: readonly boolean[] | undefined;
  readonly bounded: boolean;
  readonly lower: ArrayLike<number> | undefined;
  readonly upper: ArrayLike<number> | undefined;
  readonly fixed: ArrayLike<boolean> | undefined;
  /** True when the one linear parameter multiplies the whole value. */
  readonly homogeneous: boolean;
}

/** Linear parameters first, then the others; fixed ones are left out, as bounded ones are from the linear. */
export function freeInOrder(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  options: LeastSquaresOptions,
): Problem {
  requireList("fitLeastSquares", "y", data.y);
  requireList("fitLeastSquares", "start", options.start);
  const { lower, upper, fixed } = options;
  const p = model.parameters;
  const order: number[] = [];
  const projected: boolean[] = new Array<boolean>(p).fill(false);
  for (const j of model.linear ?? []) {
    projected[j] =
      (lower === undefined || lower[j] === -Infinity) &&
      (upper === undefined || upper[j] === Infinity);
  }
  for (let j = 0; j < p; j++) if (fixed?.[j] !== true && projected[j]!) order.push(j);
  const linear = order.length;
  for (let j = 0; j < p; j++) if (fixed?.[j] !== true && !projected[j]!) order.push(j);
  const positive = model.positive;
  return {
    model,
    data,
    n: data.y.length,
    p,
    m: order.length,
    linear,
    curved: order.length - linear,
    order,
    isPositive: positive && Array.from({ length: p }, (_, j) => positive.includes(j)),
    bounded: lower !== undefined || upper !== undefined,
    lower,
    upper,
    fixed,
    homogeneous: model.homogeneous === true && linear === 1,
  };
}

/** Where parameter `j` may not go below. */
export function lowerBound(problem: Problem, j: number): number {
  return problem.lower === undefined ? -Infinity : problem.lower[j]!;
}

/** Where parameter `j` may not go above. */
export function upperBound(problem: Problem, j: number): number {
  return problem.upper === undefined ? Infinity : problem.upper[j]!;
}
