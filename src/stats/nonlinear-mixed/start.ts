import { UsageError } from "../../core/usage-error.js";
import { choleskyFactor, solveCholesky } from "../linear-algebra/cholesky.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { checkMeanGradient } from "./check-gradient.js";
import { groupParameters, type NonlinearMixedModel } from "./model.js";

/**
 * Fixed effects to start from: the mean function is fitted to all rows at once,
 * without random effects, by damped Gauss-Newton (Levenberg-Marquardt) from each
 * candidate; the best one wins. Covariate effects begin at zero.
 */
export function pooledStart(
  model: NonlinearMixedModel,
  candidates: readonly ArrayLike<number>[],
  improve = true,
): Float64Array | null {
  let best: Float64Array | null = null;
  let lowest = Number.POSITIVE_INFINITY;
  let checked = false;
  for (const candidate of candidates) {
    const beta = toFixed(model, candidate);
    if (beta === null) continue;
    if (!checked) checkGradientAt(model, beta);
    checked = true;
    if (!improve) return beta;
    const rss = damped(model, beta);
    if (rss < lowest) {
      lowest = rss;
      best = beta;
    }
  }
  return best;
}

/** A candidate is one value per parameter (natural scale) or one per fixed coefficient. */
function toFixed(model: NonlinearMixedModel, candidate: ArrayLike<number>): Float64Array | null {
  const { p, k, fixedOf, logScale, parameters, fixedNames } = model;
  if (candidate.length !== p && candidate.length !== k) {
    throw new UsageError({
      needed: `starts of ${k} numbers (${parameters.join(", ")})${p === k ? "" : ` or of ${p} (${fixedNames.join(", ")})`}`,
      came: `one of ${candidate.length} came`,
      where: "fitNonlinearMixed, starts",
      todo: "Give one number for each parameter of the mean, in its order.",
    });
  }
  if (candidate.length === p && p !== k) return Float64Array.from(candidate);
  const beta = new Float64Array(p);
  let last = -1;
  for (let c = 0; c < p; c++) {
    const j = fixedOf[c]!;
    if (j === last) continue;
    last = j;
    beta[c] = logScale[j] === 1 ? Math.log(candidate[j]!) : candidate[j]!;
  }
  return beta.every(Number.isFinite) ? beta : null;
}

function checkGradientAt(model: NonlinearMixedModel, beta: Float64Array): void {
  const phi = new Float64Array(model.k);
  const none = new Float64Array(model.groups * model.q);
  groupParameters(model, 0, beta, none, phi, new Float64Array(model.k));
  checkMeanGradient(model.mean, model.parameters, model.x, phi);
}

function damped(model: NonlinearMixedModel, beta: Float64Array): number {
  const { groups, k, p, starts, x, y, mean, fixedOf, fixedValue } = model;
  const none = new Float64Array(groups * model.q);
  const phi = new Float64Array(k);
  const slope = new Float64Array(k);
  const d = new Float64Array(k);
  const row = new Float64Array(p);
  const gram = makeMatrix(p, p);
  const right = new Float64Array(p);
  const pass = (at: Float64Array, collect: boolean): number => {
    let rss = 0;
    if (collect) {
      gram.data.fill(0);
      right.fill(0);
    }
    for (let g = 0; g < groups; g++) {
      groupParameters(model, g, at, none, phi, slope);
      for (let i = starts[g]!; i < starts[g + 1]!; i++) {
        const r = y[i]! - mean(x[i]!, phi, d, 0);
        rss += r * r;
        if (!collect) continue;
        for (let c = 0; c < p; c++) {
          row[c] = d[fixedOf[c]!]! * slope[fixedOf[c]!]! * fixedValue[c * groups + g]!;
        }
        for (let a = 0; a < p; a++) {
          right[a]! += row[a]! * r;
          for (let b = 0; b <= a; b++) gram.data[a * p + b]! += row[a]! * row[b]!;
        }
      }
    }
    return Number.isFinite(rss) ? rss : Number.POSITIVE_INFINITY;
  };
  let rss = pass(beta, true);
  if (!Number.isFinite(rss)) return rss;
  let lambda = 1e-3;
  const trial = new Float64Array(p);
  for (let it = 0; it < 200; it++) {
    const a = makeMatrix(p, p, gram.data.slice());
    for (let c = 0; c < p; c++) a.data[c * p + c]! += lambda * (gram.data[c * p + c]! || 1e-12);
    const l = choleskyFactor(a);
    if (l === null) {
      lambda = Math.max(lambda * 10, 1e-10);
      if (lambda > 1e12) break;
      continue;
    }
    const step = solveCholesky(l, right);
    for (let c = 0; c < p; c++) trial[c] = beta[c]! + step[c]!;
    const next = pass(trial, false);
    if (next < rss) {
      const drop = rss - next;
      beta.set(trial);
      rss = pass(beta, true);
      lambda = Math.max(lambda / 5, 1e-12);
      if (drop < 1e-4 * rss) break;
    } else {
      lambda *= 6;
      if (lambda > 1e12) break;
    }
  }
  return rss;
}
