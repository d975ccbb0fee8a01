import type { LevelWork } from "./blocks.js";

/** u of each group of each level (groups x q), from the outermost inwards. */
export function standardisedEffects(
  work: readonly LevelWork[],
  lastFactors: readonly Float64Array[],
  beta: Float64Array,
): Float64Array[] {
  const p = beta.length;
  const out = work.map((l) => new Float64Array(l.groups * l.q));
  // Values of everything after Z, outermost first: (effects of outer levels b, -beta.., 1).
  const tails: Float64Array[] = [];
  for (let k = work.length - 1; k >= 0; k--) {
    const { q, m, groups, parent, u } = work[k]!;
    const tail =
      k === work.length - 1
        ? Float64Array.from({ length: m }, (_, a) => (a === p ? 1 : -beta[a]!))
        : tails[k + 1]!;
    const own = new Float64Array(groups * (q + m));
    for (let g = 0; g < groups; g++) {
      const from = k === work.length - 1 ? 0 : parent[g]! * m;
      for (let i = 0; i < q; i++) {
        let s = 0;
        for (let a = 0; a < m; a++) s += u[(g * q + i) * m + a]! * tail[from + a]!;
        out[k]![g * q + i] = s;
      }
      const l = lastFactors[k]!;
      for (let i = 0; i < q; i++) {
        let s = 0;
        for (let r = 0; r <= i; r++) s += l[i * q + r]! * out[k]![g * q + r]!;
        own[g * (q + m) + i] = -s;
      }
      for (let a = 0; a < m; a++) own[g * (q + m) + q + a] = tail[from + a]!;
    }
    tails[k] = own;
  }
  return out;
}

/** Covariance of effect minus prediction over s2 in each group, given that of beta. */
export function predictionCovariances(
  work: readonly LevelWork[],
  lastFactors: readonly Float64Array[],
  ofBeta: Float64Array,
): Float64Array[] {
  const out: Float64Array[] = [];
  let parents = [ofBeta];
  for (let k = work.length - 1; k >= 0; k--) {
    const { q, m, groups, parent, u, chol } = work[k]!;
    const l = lastFactors[k]!;
    const t0 = m - 1;
    const own = new Float64Array(groups * q * q);
    const joint: Float64Array[] = [];
    const lu = new Float64Array(q * t0);
    const luC = new Float64Array(q * t0);
    const root = new Float64Array(q * q);
    for (let g = 0; g < groups; g++) {
      const c0 = parents[parent[g]!]!;
      for (let i = 0; i < q; i++) {
        for (let j = 0; j < t0; j++) {
          let s = 0;
          for (let r = 0; r <= i; r++) s += l[i * q + r]! * u[(g * q + r) * m + j]!;
          lu[i * t0 + j] = s;
        }
      }
      for (let i = 0; i < q; i++) {
        for (let j = 0; j < t0; j++) {
          let s = 0;
          for (let a = 0; a < t0; a++) s += lu[i * t0 + a]! * c0[a * t0 + j]!;
          luC[i * t0 + j] = s;
        }
        // Column i of chol^-1 L'.
        for (let a = 0; a < q; a++) {
          let s = i >= a ? l[i * q + a]! : 0;
          for (let r = 0; r < a; r++) s -= chol[(g * q + a) * q + r]! * root[r * q + i]!;
          root[a * q + i] = s / chol[(g * q + a) * q + a]!;
        }
      }
      for (let i = 0; i < q; i++) {
        for (let j = 0; j < q; j++) {
          let s = 0;
          for (let r = 0; r < q; r++) s += root[r * q + i]! * root[r * q + j]!;
          for (let a = 0; a < t0; a++) s += luC[i * t0 + a]! * lu[j * t0 + a]!;
          own[(g * q + i) * q + j] = s;
        }
      }
      if (k === 0) continue;
      const w = q + t0;
      const whole = new Float64Array(w * w);
      for (let i = 0; i < q; i++) {
        for (let j = 0; j < q; j++) whole[i * w + j] = own[(g * q + i) * q + j]!;
        for (let j = 0; j < t0; j++) {
          whole[i * w + q + j] = -luC[i * t0 + j]!;
          whole[(q + j) * w + i] = -luC[i * t0 + j]!;
        }
      }
      for (let i = 0; i < t0; i++)
        for (let j = 0; j < t0; j++) whole[(q + i) * w + q + j] = c0[i * t0 + j]!;
      joint.push(whole);
    }
    out[k] = own;
    parents = joint;
  }
  return out;
}
