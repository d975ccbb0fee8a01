/** Where one series of ln masses most likely began to rise more slowly, by itself alone. */
export interface OwnChange {
  /** Index of the value after which it rose more slowly. */
  readonly index: number;
  readonly earliest: number;
  readonly latest: number;
  /** Slope of ln mass per day before and after, and the standard error of their difference. */
  readonly before: number;
  readonly after: number;
  readonly se: number;
  /** Difference of the slopes in standard errors; larger speaks for a change. */
  readonly z: number;
}

/**
 * Weighings of neighbouring days resemble each other (gut fill, true day-to-day
 * changes of gain), so they tell less than as many independent ones: errors are
 * widened by this factor of variance. Set so that the interval holds under
 * autocorrelated weighings too (bench `change-day-coverage`); with independent
 * ones it is then wider than it need be.
 */
const persistence = 2.5;

/** Fewest values to either side of a change. */
const fewest = 3;

/**
 * A straight line through ln mass that bends downwards once: every value with 3
 * or more to either side is tried as the bend (weighted least squares, stated
 * errors, widened to the scatter about the best bend). All days are equally
 * likely beforehand; the interval leaves 5 % of the probability outside on either
 * side. With one bend chosen among many the z is larger than a normal one by
 * chance alone: below 3 it says little. Null with fewer than 8 values, or where
 * no bend goes downwards.
 *
 * @example ownChange([0, 1, 2, 3, 4, 5, 6, 7], [0, 1, 2, 3, 3, 3, 3, 3], 0.01)?.index // 3
 */
export function ownChange(
  time: ArrayLike<number>,
  logMass: ArrayLike<number>,
  error: number | ArrayLike<number>,
): OwnChange | null {
  const n = time.length;
  if (n < 8) return null;
  const w = Float64Array.from({ length: n }, (_, i) =>
    typeof error === "number" ? error ** -2 : error[i]! ** -2,
  );
  const fits: { index: number; fit: Bend }[] = [];
  for (let k = fewest - 1; k <= n - 1 - fewest; k++) {
    const fit = bendAt(time, logMass, w, k);
    if (fit !== null) fits.push({ index: k, fit });
  }
  if (fits.length === 0) return null;
  const least = fits.reduce((m, f) => Math.min(m, f.fit.rss), Number.POSITIVE_INFINITY);
  const wide = persistence * Math.max(1, least / (n - 4));
  const down = fits.filter((f) => f.fit.bend < 0);
  if (down.length === 0) return null;
  const best = down.reduce((a, b) => (b.fit.rss < a.fit.rss ? b : a));
  const share = down.map((f) => Math.exp(-(f.fit.rss - best.fit.rss) / (2 * wide)));
  const total = share.reduce((a, b) => a + b, 0);
  let sum = 0;
  let earliest = down[0]!.index;
  let latest = down.at(-1)!.index;
  let early = false;
  let late = false;
  down.forEach((f, i) => {
    sum += share[i]!;
    if (!early && sum > 0.05 * total) {
      earliest = f.index;
      early = true;
    }
    if (!late && sum >= 0.95 * total) {
      latest = f.index;
      late = true;
    }
  });
  const se = best.fit.bendSe * Math.sqrt(wide);
  return {
    index: best.index,
    earliest: Math.min(earliest, best.index),
    latest: Math.max(latest, best.index),
    before: best.fit.slope,
    after: best.fit.slope + best.fit.bend,
    se,
    z: -best.fit.bend / se,
  };
}

interface Bend {
  readonly slope: number;
  readonly bend: number;
  readonly bendSe: number;
  readonly rss: number;
}

/** Weighted least squares of level, slope and bend at value k, by elimination; null if singular. */
function bendAt(
  t: ArrayLike<number>,
  y: ArrayLike<number>,
  w: ArrayLike<number>,
  k: number,
): Bend | null {
  const n = t.length;
  const at = t[k]!;
  const a = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  const b = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const x = [1, t[i]! - at, Math.max(0, t[i]! - at)];
    for (let r = 0; r < 3; r++) {
      b[r]! += w[i]! * x[r]! * (y[i]! - y[k]!);
      for (let c = 0; c < 3; c++) a[3 * r + c]! += w[i]! * x[r]! * x[c]!;
    }
  }
  const inverse = inverse3(a);
  if (inverse === null) return null;
  const beta = [0, 1, 2].map((r) => [0, 1, 2].reduce((s, c) => s + inverse[3 * r + c]! * b[c]!, 0));
  let rss = 0;
  for (let i = 0; i < n; i++) {
    const x = t[i]! - at;
    const e = y[i]! - y[k]! - beta[0]! - beta[1]! * x - beta[2]! * Math.max(0, x);
    rss += w[i]! * e * e;
  }
  return { slope: beta[1]!, bend: beta[2]!, bendSe: Math.sqrt(inverse[8]!), rss };
}

function inverse3(a: readonly number[]): number[] | null {
  const at = (r: number, c: number) => a[3 * r + c]!;
  const minor = (r: number, c: number) => {
    const rows = [0, 1, 2].filter((i) => i !== r);
    const cols = [0, 1, 2].filter((i) => i !== c);
    return (
      at(rows[0]!, cols[0]!) * at(rows[1]!, cols[1]!) -
      at(rows[0]!, cols[1]!) * at(rows[1]!, cols[0]!)
    );
  };
  const determinant = at(0, 0) * minor(0, 0) - at(0, 1) * minor(0, 1) + at(0, 2) * minor(0, 2);
  if (!(Math.abs(determinant) > 1e-12 * Math.abs(at(0, 0) * at(1, 1) * at(2, 2)))) return null;
  const out: number[] = [];
  for (let r = 0; r < 3; r++)
    for (let c = 0; c < 3; c++)
      out.push(((r + c) % 2 === 0 ? minor(c, r) : -minor(c, r)) / determinant);
  return out;
}
