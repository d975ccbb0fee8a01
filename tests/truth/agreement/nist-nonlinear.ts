import { readFileSync } from "node:fs";
import { fitLeastSquares } from "../../../src/stats/least-squares/fit-least-squares.js";
import { strdModel } from "../nist-nonlinear/models.js";
import { type Comparison, comparisonsOf } from "./comparison.js";

interface Strd {
  readonly level: string;
  readonly start2: readonly number[];
  readonly certified: readonly number[];
  readonly sd: readonly number[];
  readonly rss: number;
  readonly rows: readonly (readonly number[])[];
}

/** NIST StRD, certified to 11 digits: all 27 nonlinear regressions, from the second published start. */
export function nistNonlinear(): Comparison[] {
  const { all, add } = comparisonsOf("NIST StRD, nonlinear");
  const sets = JSON.parse(
    readFileSync(new URL("../nist-nonlinear/strd-nonlinear.json", import.meta.url), "utf8"),
  ) as Readonly<Record<string, Strd>>;
  for (const [name, set] of Object.entries(sets)) {
    const y = set.rows.map((row) => (name === "Nelson" ? Math.log(row[0]!) : row[0]!));
    const model = strdModel(
      name,
      set.rows.map((row) => row.slice(1)),
      true,
    );
    const fit = fitLeastSquares(
      model,
      { y },
      { start: set.start2, damping: 0.01, maxIterations: 1000 },
    );
    const what = `${name} (${set.level.toLowerCase()} difficulty)`;
    const p = set.certified.length;
    const variance = fit.rss / (set.rows.length - p);
    set.certified.forEach((each, j) => {
      add(what, `parameter ${j + 1}`, each, fit.converged ? fit.theta[j] : null);
      // Lanczos1 has residuals of the size of rounding: its errors are noise on both sides.
      if (name !== "Lanczos1")
        add(
          what,
          `its standard deviation ${j + 1}`,
          set.sd[j]!,
          fit.unscaledCovariance === null
            ? null
            : Math.sqrt(fit.unscaledCovariance[j * p + j]! * variance),
        );
    });
    if (name !== "Lanczos1") add(what, "sum of squares", set.rss, fit.rss);
  }
  return all;
}
