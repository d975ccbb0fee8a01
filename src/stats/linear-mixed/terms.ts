import { fCumulative } from "../distributions/f.js";
import { householderQr, solveQr } from "../linear-algebra/householder-qr.js";
import { matrixFromColumns } from "../linear-algebra/matrix.js";
import { buildDesign, type DesignVariables, type FixedDesign } from "../linear-model/design.js";
import { meanRow } from "../linear-model/mean-row.js";
import {
  type ContrastEstimate,
  estimateContrast,
  type MixedFTest,
  type MixedInference,
  sequentialRows,
  testContrasts,
} from "./contrasts.js";
import type { LinearMixedFit } from "./fit-linear-mixed.js";

export interface MixedTermTest extends MixedFTest {
  readonly term: string;
}

/**
 * F tests of the terms of a design.
 *
 * - `sequential` (type I): each term after those before it.
 * - `balanced` (type III): each term as if all cells of the factors had equal
 *   weight, by turning factors to sum coding.
 *
 * @example
 * const day = { kind: "number", values: [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2] };
 * const design = buildDesign({ day }, [["day"]]);
 * const levels = [{ name: "plot", group: [1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4], names: ["one"], columns: [design.columns[0]] }];
 * const fit = fitLinearMixed({ response: [5, 7, 8, 4, 5, 7, 6, 9, 10, 5, 6, 9], fixed: design, levels });
 * testTerms(prepareInference(fit), design, { day })[0].f // 79.1538
 */
export function testTerms(
  inference: MixedInference,
  design: FixedDesign,
  variables: DesignVariables,
  type: "sequential" | "balanced" = "balanced",
): MixedTermTest[] {
  if (type === "sequential") {
    const rows = sequentialRows(inference.fit);
    return design.terms.flatMap((term) => {
      const own = term.columns
        .map((c) => inference.fit.fixed.kept.indexOf(c))
        .filter((k) => k >= 0)
        .map((k) => rows[k]!);
      return own.length === 0
        ? []
        : [{ term: term.name, ...sequentialTest(inference, own, term.columns) }];
    });
  }
  const terms = design.terms.map((t) => t.name.split(":"));
  const sum = buildDesign(variables, terms, { intercept: design.intercept, coding: "sum" });
  const qr = householderQr(matrixFromColumns(sum.columns));
  const columns = design.columns.map((c) => solveQr(qr, c));
  return design.terms.map((term, k) => ({
    term: term.name,
    ...testContrasts(
      inference,
      sum.terms[k]!.columns.map((c) => Float64Array.from(columns, (own) => own[c] ?? 0)),
    ),
  }));
}

function sequentialTest(
  inference: MixedInference,
  rows: Float64Array[],
  columns: readonly number[],
): MixedFTest {
  const test = testContrasts(inference, rows);
  if (inference.df !== "containment") return test;
  // By containment a sequential test takes the degrees of its own columns.
  const unit = columns.map((c) =>
    Float64Array.from(inference.fit.fixed.names, (_, j) => (j === c ? 1 : 0)),
  );
  const own = testContrasts(inference, unit);
  return withDf(test, own.denominatorDf);
}

function withDf(test: MixedFTest, df: number): MixedFTest {
  return { ...test, denominatorDf: df, p: fCumulative(test.f, test.numeratorDf, df, "upper") };
}

export interface MixedAdjustedMean extends ContrastEstimate {
  readonly level: string;
}

/**
 * Means of a factor's levels as the model sees them: the numbers held at `at`
 * (their average where not given), the other factors averaged with equal
 * weights. Also called adjusted, marginal or least-squares means.
 *
 * @example
 * const diet = { kind: "factor", values: ["a", "b", "a", "b", "a", "b"] };
 * const design = buildDesign({ diet }, [["diet"]]);
 * const levels = [{ name: "plot", group: [1, 1, 2, 2, 3, 3], names: ["one"], columns: [design.columns[0]] }];
 * const fit = fitLinearMixed({ response: [5, 7, 4, 7, 6, 8], fixed: design, levels });
 * mixedAdjustedMeans(prepareInference(fit), design, { diet }, "diet")[1].estimate // 7.33333
 */
export function mixedAdjustedMeans(
  inference: MixedInference,
  design: FixedDesign,
  variables: DesignVariables,
  of: string,
  at: Readonly<Record<string, number>> = {},
  level = 0.95,
): MixedAdjustedMean[] {
  return (design.levels[of] ?? []).map((name) => ({
    level: name,
    ...estimateContrast(inference, meanRow(design, variables, of, name, at), level),
  }));
}

/**
 * Shares of variance: marginal (fixed effects) and conditional (fixed and random
 * effects together). Source: Nakagawa and Schielzeth (2013), with random slopes
 * after Johnson (2014): the random part is the mean of z' Psi z over the rows.
 *
 * @example
 * const plot = [1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4], day = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
 * const ones = day.map(() => 1), response = [5, 7, 8, 4, 5, 7, 6, 9, 10, 5, 6, 9];
 * const levels = [{ name: "plot", group: plot, names: ["one"], columns: [ones] }];
 * const fit = fitLinearMixed({ response, fixed: { names: ["one", "day"], columns: [ones, day] }, levels });
 * varianceExplained(fit).marginal // 0.564885
 */
export function varianceExplained(fit: LinearMixedFit): {
  readonly marginal: number;
  readonly conditional: number;
} {
  const { engine } = fit;
  const { n, width, rows, profile, gamma0 } = engine;
  engine.deviance(Float64Array.from(fit.theta), fit.method, null);
  const p = gamma0.length;
  const zWidth = width - p - 1;
  const mean = new Float64Array(n);
  let total = 0;
  let random = 0;
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < p; k++)
      mean[i]! += rows[i * width + zWidth + k]! * (gamma0[k]! + profile.beta[k]!);
    total += mean[i]!;
    let at = i * width;
    engine.levels.forEach((l, k) => {
      for (let c = 0; c < l.q; c++) {
        let s = 0;
        for (let r = c; r < l.q; r++) s += rows[at + r]! * engine.factors[k]![r * l.q + c]!;
        random += s * s;
      }
      at += l.q;
    });
  }
  const fixed = mean.reduce((s, v) => s + (v - total / n) ** 2, 0) / (n - 1);
  const scales = new Float64Array(n);
  engine.residual?.logScales(Float64Array.from(fit.theta), engine.thetaCount, scales);
  const spread = scales.reduce((s, v) => s + Math.exp(2 * v), 0) / n;
  const s2 = fit.workingSigma ** 2;
  const r = (random / n) * s2;
  const whole = fixed + r + s2 * spread;
  return { marginal: fixed / whole, conditional: (fixed + r) / whole };
}
