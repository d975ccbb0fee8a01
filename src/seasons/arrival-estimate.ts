import { choleskyFactor, solveCholesky } from "../stats/linear-algebra/cholesky.js";
import { makeMatrix } from "../stats/linear-algebra/matrix.js";
import type { AdjustedModel } from "./adjusted-model.js";

/** A weighted sum of seasons' means, linear in the gains, with slopes on arrival held near nothing. */
export interface ArrivalEstimate {
  readonly difference: number;
  /** Length of the weights: the standard error for a spread of 1. */
  readonly length: number;
  /** What slopes of the size of their bounds move it by at most. */
  readonly bias: number;
}

/**
 * Penalised least squares of the seasons' contrast: slopes in units of `bounds`, the square
 * of each costing `weight` variances of an animal; infinitely many leave bounded slopes out,
 * an infinite bound leaves a slope free.
 *
 * @param columns the adjustments, animal by animal, from `arrivalColumns`.
 */
export function arrivalEstimate(
  model: AdjustedModel,
  columns: readonly (readonly number[])[],
  bounds: readonly number[],
  contrast: readonly number[],
  weight: number,
  response: readonly number[] = model.response,
): ArrivalEstimate {
  const seasons = model.seasons.length;
  const keep = bounds.flatMap((bound, j) =>
    weight === Number.POSITIVE_INFINITY && Number.isFinite(bound) ? [] : [j],
  );
  const scale = (j: number) => (Number.isFinite(bounds[j]!) ? bounds[j]! : 1);
  const rows = model.design.map((row, i) => [
    ...row.slice(0, seasons),
    ...keep.map((j) => columns[j]![i]! * scale(j)),
  ]);
  const p = seasons + keep.length;
  const cross = makeMatrix(p, p);
  for (const row of rows)
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) cross.data[i * p + j]! += row[i]! * row[j]!;
  keep.forEach((j, c) => {
    if (Number.isFinite(bounds[j]!))
      cross.data[(seasons + c) * (p + 1)]! += weight * model.residualSd ** 2;
  });
  const wanted = new Float64Array(p);
  wanted.set(contrast);
  const solved = solveCholesky(choleskyFactor(cross)!, wanted);
  const w = rows.map((row) => row.reduce((s, x, j) => s + x * solved[j]!, 0));
  let bias = 0;
  bounds.forEach((bound, j) => {
    if (!Number.isFinite(bound)) return;
    const moved = w.reduce((s, wi, i) => s + wi * columns[j]![i]!, 0);
    bias += Math.abs(moved) * bound;
  });
  return {
    difference: w.reduce((s, wi, i) => s + wi * response[i]!, 0),
    length: Math.sqrt(w.reduce((s, wi) => s + wi * wi, 0)),
    bias,
  };
}

/**
 * The columns of the adjustments, arrival mass as mass for age: an animal that arrives
 * later is heavier by that alone, and must not be bounded twice.
 */
export function arrivalColumns(model: AdjustedModel): number[][] {
  const k = model.seasons.length;
  const columns = model.used.map((_, j) => model.design.map((row) => row[k + j]!));
  const mass = model.used.indexOf("arrival mass");
  const age = columns[model.used.indexOf("arrival age")];
  if (age === undefined || mass < 0) return columns;
  const slope = massForAge(age, columns[mass]!);
  columns[mass] = columns[mass]!.map((m, i) => m - slope * age[i]!);
  return columns;
}

/** How much heavier an animal is for each day later, over all animals; both columns are centred. */
function massForAge(age: readonly number[], mass: readonly number[]): number {
  return age.reduce((s, x, i) => s + x * mass[i]!, 0) / age.reduce((s, x) => s + x * x, 0);
}

/**
 * What a day later at arrival does to gain within seasons, g/d, the mass that comes with it
 * included, with its standard error. Null where arrival age is not in the model.
 */
export function freeArrivalSlope(
  model: AdjustedModel,
): { readonly perDay: number; readonly se: number } | null {
  const k = model.seasons.length;
  const age = model.used.indexOf("arrival age");
  if (age < 0) return null;
  const mass = model.used.indexOf("arrival mass");
  const column = (j: number) => model.design.map((row) => row[k + j]!);
  const direction = model.coefficients.map(() => 0);
  direction[k + age] = 1;
  if (mass >= 0) direction[k + mass] = massForAge(column(age), column(mass));
  let variance = 0;
  direction.forEach((a, i) => {
    direction.forEach((b, j) => {
      variance += a * b * model.unscaled[i]![j]!;
    });
  });
  return {
    perDay: direction.reduce((s, a, i) => s + a * model.coefficients[i]!, 0),
    se: model.residualSd * Math.sqrt(variance),
  };
}
