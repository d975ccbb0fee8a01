import type { Random } from "../core/random.js";

/**
 * Studentised deviations (slope* - slope) / se* of resampled least-squares
 * slopes, ascending: residuals are divided by sqrt(1 - leverage), centred, and
 * drawn with replacement.
 */
export function slopePivots(
  x: readonly number[],
  y: readonly number[],
  draws: number,
  random: Random,
  onDraw: (done: number) => void = () => {},
): Float64Array {
  const n = x.length;
  const mx = x.reduce((a, b) => a + b, 0) / n;
  const dx = x.map((v) => v - mx);
  const sxx = dx.reduce((s, d) => s + d * d, 0);
  const line = (values: ArrayLike<number>) => {
    let mean = 0;
    let sxy = 0;
    for (let i = 0; i < n; i++) {
      mean += values[i]! / n;
      sxy += dx[i]! * values[i]!;
    }
    const slope = sxy / sxx;
    let rss = 0;
    for (let i = 0; i < n; i++) rss += (values[i]! - mean - slope * dx[i]!) ** 2;
    return { mean, slope, se: Math.sqrt(rss / (n - 2) / sxx) };
  };
  const fit = line(y);
  const fitted = dx.map((d) => fit.mean + fit.slope * d);
  const scaled = y.map((v, i) => (v - fitted[i]!) / Math.sqrt(1 - 1 / n - (dx[i]! * dx[i]!) / sxx));
  const centre = scaled.reduce((a, b) => a + b, 0) / n;
  const out = new Float64Array(draws);
  const drawn = new Float64Array(n);
  for (let k = 0; k < draws; k++) {
    if (k % 256 === 0) onDraw(k);
    for (let i = 0; i < n; i++) drawn[i] = fitted[i]! + scaled[random.below(n)]! - centre;
    const again = line(drawn);
    // All residuals drawn alike: no scatter left, so no pivot.
    out[k] = again.se > 0 ? (again.slope - fit.slope) / again.se : 0;
  }
  return out.sort();
}
