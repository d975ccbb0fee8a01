import {
  factorInPlace,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../linear-algebra/small-matrix.js";
import type { SlopeMixture } from "./slope-mixture.js";

export interface LevelShift {
  /** Log of the Bayes factor of a mean slope lower than was believed beforehand, against none. */
  readonly evidence: number;
  /** Mean slope believed beforehand less the one believed now, along the times seen, and its error. */
  readonly missing: number;
  readonly se: number;
}

/** Sets of parameters looked at, the heaviest first. */
const mostSets = 8;

/**
 * Whether the mean slope of a group lies below what was believed before its first value, by
 * beliefs that know something of it (`informed`). A belief that knows nothing denies nothing,
 * so the vague ones are left out here: a group like no other is told by how far off it is.
 *
 * With prior precision P and mean m of the slopes at the knots, posterior precision Q and
 * mean b, the log likelihood ratio of a mean (1 - f) m against m is f n - f^2 q / 2 with
 * n = m'P(m - b) and q = m'Pm - m'P Q^-1 P m; averaged over f, parameters and beliefs.
 *
 * @param along Weights of the knots in the slope that is told; they need not sum to 1.
 * @param missing Shares that may be missing, with their weights (sum 1).
 * @returns null where no belief is informed or the weights are all 0.
 *
 * @example
 * // Believed to rise by 0.02 a day, give or take 0.001; rises by 0.015
 * const belief = { weight: 1, informed: true, precision: Float64Array.of(1e6), pulled: Float64Array.of(2e4) };
 * const parameters = [{ noiseSd: 0.01, lastingShare: 0.3, wander: 0.1, spread: 0.1 }];
 * const group = new SlopeMixture({ knots: [0], parameters, weights: [1], beliefs: [belief] });
 * const series = new MixedSeries();
 * for (let day = 0; day < 30; day++) group.append(series, day, 0.015 * day, 1e-5, 0.02, true);
 * group.settle();
 * levelShift(group, [1], [{ share: 0.25, weight: 1 }]).evidence > 1 // true
 */
export function levelShift(
  group: SlopeMixture,
  along: ArrayLike<number>,
  missing: readonly { readonly share: number; readonly weight: number }[],
): LevelShift | null {
  const { width, factor, coefficients, parameterShare } = group;
  const { beliefs, parameters } = group.prior;
  const informed = beliefs.flatMap((b, c) => (b.informed === true ? [c] : []));
  const length = Array.from(along).reduce((s, v) => s + v, 0);
  if (informed.length === 0 || !(length > 0)) return null;
  // What they are worth among each other, however little beside the vague ones.
  const shares = informed.map((c) => group.beliefShare[c]!);
  const known = shares.reduce((s, v) => s + v, 0) > 0;
  const sets = Array.from(parameterShare, (share, k) => ({ k, share }))
    .sort((a, b) => b.share - a.share)
    .slice(0, mostSets);
  const sums = { all: 0, ratio: 0, mean: 0, square: 0 };
  informed.forEach((c, i) => {
    const { precision, pulled, weight } = beliefs[c]!;
    const before = solvedBy(precision, pulled, width);
    const atFirst = dot(pulled, before);
    const believed = dot(along, before) / length;
    for (const { k, share } of sets) {
      const pair = c * parameters.length + k;
      const at = pair * width * width;
      const own = coefficients.subarray(pair * width, (pair + 1) * width);
      const half = Float64Array.from(pulled);
      solveLowerInPlace(factor, width, half, at);
      const n = atFirst - dot(pulled, own);
      const q = Math.max(1e-9, atFirst - dot(half, half));
      const told = Float64Array.from(along, (v) => v / length);
      const short = believed - dot(told, own);
      solveLowerInPlace(factor, width, told, at);
      const of = share * (known ? shares[i]! : weight);
      sums.all += of;
      for (const m of missing)
        sums.ratio += of * m.weight * Math.exp(Math.min(300, m.share * n - 0.5 * m.share ** 2 * q));
      sums.mean += of * short;
      sums.square += of * (short * short + dot(told, told));
    }
  });
  if (!(sums.all > 0)) return null;
  const mean = sums.mean / sums.all;
  return {
    evidence: Math.log(sums.ratio / sums.all),
    missing: mean,
    se: Math.sqrt(Math.max(0, sums.square / sums.all - mean * mean)),
  };
}

const dot = (a: ArrayLike<number>, b: ArrayLike<number>) => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

/** Mean of a belief. */
function solvedBy(precision: Float64Array, pulled: Float64Array, width: number): Float64Array {
  const l = precision.slice();
  factorInPlace(l, width);
  const out = pulled.slice();
  solveLowerInPlace(l, width, out);
  solveUpperInPlace(l, width, out);
  return out;
}
