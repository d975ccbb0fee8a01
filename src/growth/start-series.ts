import type { StartSeries } from "./growth-curve.js";

/** Condenses a series (in order of age) to at most 12 averaged points. */
export function startSeries(ages: ArrayLike<number>, masses: ArrayLike<number>): StartSeries {
  const n = ages.length;
  const groups = Math.min(n, 12);
  const t: number[] = new Array(groups);
  const w: number[] = new Array(groups);
  let lightest = Number.POSITIVE_INFINITY;
  let heaviest = Number.NEGATIVE_INFINITY;
  for (let g = 0; g < groups; g++) {
    const from = Math.floor((g * n) / groups);
    const to = Math.floor(((g + 1) * n) / groups);
    let age = 0;
    let mass = 0;
    for (let i = from; i < to; i++) {
      age += ages[i]!;
      mass += masses[i]!;
    }
    t[g] = age / (to - from);
    mass /= to - from;
    w[g] = mass;
    if (mass < lightest) lightest = mass;
    if (mass > heaviest) heaviest = mass;
  }
  const first = ages[0] ?? 0;
  const last = ages[n - 1] ?? 0;
  return { t, w, ages, masses, first, last, span: last - first || 1, lightest, heaviest };
}

/**
 * The straight line z = a + b t through transformed masses, weighted by how
 * well each transformed mass is known: weight(w) = (dw/dz)^2. `transform` gives
 * `NaN` where a mass has no place on the line. Returns `null` when fewer than
 * two ages remain.
 */
export function straightened(
  series: StartSeries,
  transform: (w: number) => number,
  weight: (w: number, z: number) => number,
): { readonly level: number; readonly slope: number } | null {
  let sum = 0;
  let st = 0;
  let sz = 0;
  const { t, w } = series;
  const origin = series.first;
  let stt = 0;
  let stz = 0;
  for (let i = 0; i < t.length; i++) {
    const z = transform(w[i]!);
    if (!Number.isFinite(z)) continue;
    const q = weight(w[i]!, z);
    const x = t[i]! - origin;
    sum += q;
    st += q * x;
    sz += q * z;
    stt += q * x * x;
    stz += q * x * z;
  }
  const spread = stt - (st * st) / sum;
  if (!(spread > 1e-12 * stt)) return null;
  const slope = (stz - (st * sz) / sum) / spread;
  return { level: (sz - slope * st) / sum - slope * origin, slope };
}

/** Slope and level of the ordinary line through the condensed masses. */
export function lineThrough(series: StartSeries): { level: number; slope: number } {
  return (
    straightened(
      series,
      (w) => w,
      () => 1,
    ) ?? { level: series.w[0] ?? 0, slope: 0 }
  );
}

/** Level and scale of the ordinary fit W = level + scale f(t) on the condensed series. */
export function levelAndScale(
  series: StartSeries,
  f: (t: number) => number,
): { readonly level: number; readonly scale: number } | null {
  const { t, w } = series;
  const n = t.length;
  const x = t.map(f);
  const mean = x.reduce((sum, each) => sum + each, 0) / n;
  const meanW = w.reduce((sum, each) => sum + each, 0) / n;
  let top = 0;
  let bottom = 0;
  for (let i = 0; i < n; i++) {
    top += (x[i]! - mean) * (w[i]! - meanW);
    bottom += (x[i]! - mean) ** 2;
  }
  if (!(bottom > 1e-24 * (1 + mean * mean))) return null;
  const scale = top / bottom;
  return { level: meanW - scale * mean, scale };
}

/**
 * Ages at which a break is worth trying: every inner age of the whole series,
 * and for each gap between ages the point where the line through the points
 * before meets the line (or, for `sides` 1, the level) through those after, if
 * it lies in the gap. One of these is the least-squares break (Hudson 1966).
 */
export function breakAges(series: StartSeries, sides: 1 | 2): number[] {
  const { ages, masses } = series;
  const n = ages.length;
  const found: number[] = [];
  const sums = (from: number, to: number) => {
    let t = 0;
    let w = 0;
    for (let i = from; i < to; i++) {
      t += ages[i]!;
      w += masses[i]!;
    }
    const count = to - from;
    t /= count;
    w /= count;
    let tt = 0;
    let tw = 0;
    for (let i = from; i < to; i++) {
      tt += (ages[i]! - t) ** 2;
      tw += (ages[i]! - t) * (masses[i]! - w);
    }
    const slope = tt > 0 ? tw / tt : 0;
    return { level: w - slope * t, slope, mean: w };
  };
  for (let i = 1; i < n; i++) {
    const before = ages[i - 1]!;
    const after = ages[i]!;
    if (after === before) continue;
    if (i >= 2) found.push(before);
    const left = sums(0, i);
    const right = sums(i, n);
    const meet =
      sides === 2
        ? (right.level - left.level) / (left.slope - right.slope)
        : (right.mean - left.level) / left.slope;
    if (meet > before && meet < after) found.push(meet);
  }
  return found;
}
