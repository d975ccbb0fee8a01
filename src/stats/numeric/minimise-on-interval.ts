export interface Minimum {
  readonly x: number;
  readonly value: number;
  readonly iterations: number;
  /** The smallest value found lies at an end of the interval. */
  readonly atEnd: boolean;
}

/**
 * The minimum of a function on [low, high]: a scan of `scan` points (so that one of
 * several valleys is not missed for good), then Brent's parabolic search in the
 * best of them. Source: R. P. Brent (1973), chapter 5.
 *
 * @example minimiseOnInterval((x) => (x - 1) ** 2, -3, 3).x // 1
 */
export function minimiseOnInterval(
  f: (x: number) => number,
  low: number,
  high: number,
  options: { readonly scan?: number; readonly tolerance?: number } = {},
): Minimum {
  const { scan = 40, tolerance = 1e-8 } = options;
  const at = (i: number) => low + ((high - low) * i) / scan;
  let best = 0;
  let bestValue = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= scan; i++) {
    const v = f(at(i));
    if (v < bestValue) [best, bestValue] = [i, v];
  }
  const found = brent(f, at(Math.max(0, best - 1)), at(Math.min(scan, best + 1)), tolerance);
  const atEnd = found.x - low < 10 * tolerance || high - found.x < 10 * tolerance;
  return found.value <= bestValue
    ? { ...found, atEnd }
    : {
        x: at(best),
        value: bestValue,
        iterations: found.iterations,
        atEnd: best === 0 || best === scan,
      };
}

function brent(
  f: (x: number) => number,
  from: number,
  to: number,
  tolerance: number,
): { x: number; value: number; iterations: number } {
  const golden = 0.3819660112501051;
  let a = from;
  let b = to;
  let x = a + golden * (b - a);
  let w = x;
  let v = x;
  let fx = f(x);
  let fw = fx;
  let fv = fx;
  let d = 0;
  let e = 0;
  let iterations = 0;
  for (; iterations < 200; iterations++) {
    const middle = (a + b) / 2;
    const tol = 1e-12 * Math.abs(x) + tolerance / 3;
    if (Math.abs(x - middle) <= 2 * tol - (b - a) / 2) break;
    let usable = false;
    if (Math.abs(e) > tol) {
      const r = (x - w) * (fx - fv);
      let q = (x - v) * (fx - fw);
      let p = (x - v) * q - (x - w) * r;
      q = 2 * (q - r);
      if (q > 0) p = -p;
      q = Math.abs(q);
      const before = e;
      e = d;
      if (Math.abs(p) < Math.abs(0.5 * q * before) && p > q * (a - x) && p < q * (b - x)) {
        d = p / q;
        const u = x + d;
        if (u - a < 2 * tol || b - u < 2 * tol) d = x < middle ? tol : -tol;
        usable = true;
      }
    }
    if (!usable) {
      e = x < middle ? b - x : a - x;
      d = golden * e;
    }
    const u = Math.abs(d) >= tol ? x + d : x + (d > 0 ? tol : -tol);
    const fu = f(u);
    if (fu <= fx) {
      if (u < x) b = x;
      else a = x;
      [v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
    } else {
      if (u < x) a = u;
      else b = u;
      if (fu <= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
      else if (fu <= fv || v === x || v === w) [v, fv] = [u, fu];
    }
  }
  return { x, value: fx, iterations };
}
