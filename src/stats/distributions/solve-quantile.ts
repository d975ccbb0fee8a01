/**
 * Solves tail(u) = p for a quantile on a stretched axis u (a logarithm or a
 * log-odds), where log tail is close to straight. Newton's method on log tail,
 * kept inside a bracket that every evaluation narrows.
 */
export interface QuantileProblem {
  /** The tail probability at u; falls as u grows if `falling`. */
  readonly tail: (u: number) => number;
  /** |d tail / d u| at u. */
  readonly slope: (u: number) => number;
  readonly p: number;
  readonly falling: boolean;
  readonly start: number;
}

export function solveQuantile(problem: QuantileProblem): number {
  const { tail, slope, p, falling } = problem;
  const sign = falling ? -1 : 1;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  let u = problem.start;
  let reach = 1;
  let last = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 400; i++) {
    const t = tail(u);
    const off = Math.abs(t - p) < 0.1 * p ? Math.log1p((t - p) / p) : Math.log(t / p);
    if (off === 0) return u;
    if (sign * off < 0) low = Math.max(low, u);
    else high = Math.min(high, u);
    let next = u - sign * off * (t / slope(u));
    const bracketed = Number.isFinite(low) && Number.isFinite(high);
    if (!Number.isFinite(next) || next <= low || next >= high) {
      if (bracketed) next = (low + high) / 2;
      else {
        next = sign * off < 0 ? u + reach : u - reach;
        reach *= 2;
      }
    } else if (!bracketed && Math.abs(next - u) > reach) {
      next = u + Math.sign(next - u) * reach;
      reach *= 2;
    }
    const step = Math.abs(next - u);
    u = next;
    if (step <= 2e-16 * Math.max(1e-3, Math.abs(u))) return u;
    // Rounding noise: steps that no longer shrink at the last digits.
    if (step < 1e-13 * Math.max(1, Math.abs(u)) && step >= last) return u;
    last = step;
    if (bracketed && high - low <= 2e-16 * Math.max(1e-3, Math.abs(u))) return u;
  }
  return u;
}
