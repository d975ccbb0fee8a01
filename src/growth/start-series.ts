import type { StartSeries } from "./growth-curve.js";

/** Condenses a series (in order of age) to at most 16 averaged points. */
export function startSeries(ages: ArrayLike<number>, masses: ArrayLike<number>): StartSeries {
  const n = ages.length;
  const groups = Math.min(n, 16);
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
  return { t, w, first, last, span: last - first || 1, lightest, heaviest };
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
  weight: (w: number) => number,
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
    const q = weight(w[i]!);
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
