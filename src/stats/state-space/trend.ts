import { requireList, requireNumbers } from "../../core/require-numbers.js";

/**
 * A series of its own, without a group: level and slope that wander, observed
 * with known errors at irregular times.
 */
export interface TrendSettings {
  /** Standard deviation of the random step of the level across one unit of time. */
  readonly levelSd: number;
  /** Standard deviation of the random step of the slope across one unit of time. */
  readonly slopeSd: number;
  /** Values further off than this many standard errors are pulled in. Default 3.5; Infinity for none. */
  readonly cut?: number;
}

export interface TrendState {
  readonly time: number;
  readonly level: number;
  readonly levelSe: number;
  readonly slope: number;
  readonly slopeSe: number;
}

export interface TrendSmooth {
  /** From values up to and including each time. */
  readonly filtered: readonly TrendState[];
  /** From all values. */
  readonly smoothed: readonly TrendState[];
  /** Standardised one-step surprises; null for the first two, which set level and slope. */
  readonly surprises: readonly (number | null)[];
  readonly logLikelihood: number;
}

const wide = 1e7;

/**
 * Local level and trend smoothing at irregular times with known error variances:
 * Kalman filter and fixed-interval smoother, a diffuse start, and pulled-in
 * outliers. `error[j]` is the standard error of `y[j]`.
 *
 * Source: Harvey (1989), section 4.5; Rauch, Tung and Striebel (1965) for the
 * smoother. The random steps over dt are those of an integrated random walk:
 * variance slopeSd^2 dt^3/3 + levelSd^2 dt of the level, slopeSd^2 dt of the slope.
 *
 * @example smoothTrend([0, 1, 2], [10, 11, 12], [0.1, 0.1, 0.1], { levelSd: 0, slopeSd: 0 }).smoothed[1].slope // 1
 */
export function smoothTrend(
  time: ArrayLike<number>,
  y: ArrayLike<number>,
  error: ArrayLike<number>,
  settings: TrendSettings,
): TrendSmooth {
  requireNumbers("smoothTrend", "times", time);
  requireList("smoothTrend", "the values", y);
  requireList("smoothTrend", "errors", error);
  const n = y.length;
  const cut = settings.cut ?? 3.5;
  const q = settings.levelSd ** 2;
  const s = settings.slopeSd ** 2;
  const filtered: TrendState[] = [];
  const surprises: (number | null)[] = [];
  // Predicted and filtered moments, kept for the smoother: a, b, aa, ab, bb.
  const predictedRows: number[][] = [];
  const filteredRows: number[][] = [];
  let logLikelihood = 0;
  let a = n > 0 ? y[0]! : 0;
  let b = 0;
  let scale = 1;
  for (let j = 1; j < n; j++) scale = Math.max(scale, Math.abs(y[j]!));
  let aa = wide * scale * scale;
  let ab = 0;
  let bb = wide * scale * scale;
  for (let j = 0; j < n; j++) {
    if (j > 0) {
      const dt = time[j]! - time[j - 1]!;
      a += dt * b;
      aa += 2 * dt * ab + dt * dt * bb + (s * dt ** 3) / 3 + q * dt;
      ab += dt * bb + (s * dt * dt) / 2;
      bb += s * dt;
    }
    predictedRows.push([a, b, aa, ab, bb]);
    const r = error[j]! ** 2;
    const f = aa + r;
    let v = y[j]! - a;
    const z = v / Math.sqrt(f);
    if (j < 2) surprises.push(null);
    else {
      surprises.push(z);
      const tamed = Math.max(-cut, Math.min(cut, z));
      v = tamed * Math.sqrt(f);
      logLikelihood -= 0.5 * (Math.log(2 * Math.PI * f) + tamed * tamed);
    }
    const ka = aa / f;
    const kb = ab / f;
    a += ka * v;
    b += kb * v;
    // Joseph form of the level variance: exact also where r is far below aa.
    bb -= kb * ab;
    ab *= r / f;
    aa = (aa * r) / f;
    filteredRows.push([a, b, aa, ab, bb]);
    filtered.push(stateOf(time[j]!, a, b, aa, bb));
  }
  const smoothed: TrendState[] = new Array(n);
  let next = filteredRows[n - 1];
  if (next !== undefined)
    smoothed[n - 1] = stateOf(time[n - 1]!, next[0]!, next[1]!, next[2]!, next[4]!);
  for (let j = n - 2; j >= 0 && next !== undefined; j--) {
    const dt = time[j + 1]! - time[j]!;
    const [fa, fb, faa, fab, fbb] = filteredRows[j]! as [number, number, number, number, number];
    const [pa, pb, paa, pab, pbb] = predictedRows[j + 1]! as [
      number,
      number,
      number,
      number,
      number,
    ];
    const det = paa * pbb - pab * pab;
    if (!(det > 0)) {
      smoothed[j] = stateOf(time[j]!, fa, fb, faa, fbb);
      next = filteredRows[j]!;
      continue;
    }
    // Gain G = P F' Q^-1 with F = [1 dt; 0 1] and Q the predicted covariance.
    const c11 = faa + dt * fab;
    const c12 = fab;
    const c21 = fab + dt * fbb;
    const c22 = fbb;
    const g11 = (c11 * pbb - c12 * pab) / det;
    const g12 = (c12 * paa - c11 * pab) / det;
    const g21 = (c21 * pbb - c22 * pab) / det;
    const g22 = (c22 * paa - c21 * pab) / det;
    const [na, nb, naa, nab, nbb] = next as [number, number, number, number, number];
    const da = na - pa;
    const db = nb - pb;
    const d11 = naa - paa;
    const d12 = nab - pab;
    const d22 = nbb - pbb;
    const sa = fa + g11 * da + g12 * db;
    const sb = fb + g21 * da + g22 * db;
    const saa = faa + g11 * g11 * d11 + 2 * g11 * g12 * d12 + g12 * g12 * d22;
    const sab = fab + g11 * g21 * d11 + (g11 * g22 + g12 * g21) * d12 + g12 * g22 * d22;
    const sbb = fbb + g21 * g21 * d11 + 2 * g21 * g22 * d12 + g22 * g22 * d22;
    smoothed[j] = stateOf(time[j]!, sa, sb, saa, sbb);
    next = [sa, sb, saa, sab, sbb];
  }
  return { filtered, smoothed, surprises, logLikelihood };
}

function stateOf(time: number, level: number, slope: number, aa: number, bb: number): TrendState {
  return {
    time,
    level,
    levelSe: Math.sqrt(Math.max(0, aa)),
    slope,
    slopeSe: Math.sqrt(Math.max(0, bb)),
  };
}
