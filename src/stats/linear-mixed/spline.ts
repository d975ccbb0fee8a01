import { householderQr, solveQr } from "../linear-algebra/householder-qr.js";
import type { DesignVariable } from "../linear-model/design.js";
import { bSplineBasis, naturalSplineBasis } from "../smoothing/spline-basis.js";

/**
 * A number as spline columns of a fixed design, to stand beside an intercept: a
 * natural cubic spline (straight beyond its boundary; default) or a cubic B
 * spline. Interior knots lie at given places or at equal quantiles; the column
 * that the intercept makes superfluous is left out.
 *
 * @throws UsageError when knots are not ascending inside the boundary.
 * @example buildDesign({ day: splineVariable("day", day, { pieces: 3 }) }, [["day"]]).names
 * // "(Intercept)", "day~1", "day~2", "day~3"
 */
export function splineVariable(
  name: string,
  values: ArrayLike<number>,
  options: {
    readonly kind?: "natural" | "b";
    /** Interior knots; or their number as `pieces` - 1, at quantiles of the values. */
    readonly knots?: readonly number[];
    readonly pieces?: number;
    readonly boundary?: readonly [number, number];
  } = {},
): DesignVariable {
  const { kind = "natural", pieces = 3 } = options;
  const sorted = Float64Array.from(values).sort();
  const low = sorted[0] ?? 0;
  const high = sorted[sorted.length - 1] ?? 1;
  const knots =
    options.knots ??
    Array.from({ length: pieces - 1 }, (_, k) => {
      const h = ((k + 1) / pieces) * (sorted.length - 1);
      const at = Math.floor(h);
      const a = sorted[at]!;
      return a + (h - at) * ((sorted[at + 1] ?? a) - a);
    });
  const spline = { knots, boundary: options.boundary ?? ([low, high] as [number, number]) };
  const basis = (x: ArrayLike<number>) =>
    kind === "natural" ? naturalSplineBasis(x, spline) : bSplineBasis(x, spline);
  // Some combination of the columns is the constant; the column with the largest
  // share in it goes, the rest and an intercept span the same curves.
  const [from, to] = spline.boundary;
  const grid = Array.from({ length: 50 }, (_, i) => from + ((to - from) * i) / 49);
  const share = solveQr(
    householderQr(basis(grid)),
    grid.map(() => 1),
  ).map((c) => Math.abs(c ?? 0));
  const superfluous = share.indexOf(Math.max(...share));
  const kept = share.map((_, j) => j).filter((j) => j !== superfluous);
  return {
    kind: "basis",
    values,
    names: kept.map((_, k) => `${name}~${k + 1}`),
    evaluate: (x) => {
      const row = basis([x]).data;
      return kept.map((j) => row[j]!);
    },
  };
}
