import { madToSd } from "../stats/descriptive/mad-to-sd.js";
import { medianInPlace } from "../stats/descriptive/median.js";
/** A straight line fitted so that a few wild points do not move it. */
export interface RobustLine {
  /** Value at x = 0. */
  readonly level: number;
  readonly slope: number;
  /** Spread of the points about the line (robust standard deviation). */
  readonly spread: number;
  /** Standard error of the level at x = 0, as if the spread were true. */
  readonly levelError: number;
  readonly n: number;
}

/**
 * Fits y = level + slope x by Tukey's bisquare (tuning 4.685, which keeps 95 %
 * of the efficiency on normal data), started from the Theil-Sen line, the spread
 * from the median absolute residual. `weights` say how much each point concerns
 * x = 0. With fewer than two distinct x the slope is 0; `steepest` bounds it.
 *
 * Sources: Beaton and Tukey (1974) for the bisquare; Theil (1950), Sen (1968).
 */
export function robustLine(
  x: readonly number[],
  y: readonly number[],
  weights: readonly number[],
  floor: number,
  steepest = Number.POSITIVE_INFINITY,
): RobustLine {
  const n = x.length;
  if (room.length < n * n) room = new Float64Array(2 * n * n);
  let pairs = 0;
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++)
      if (Math.abs(x[j]! - x[i]!) > 0.2) room[pairs++] = (y[j]! - y[i]!) / (x[j]! - x[i]!);
  const within = (b: number) => Math.max(-steepest, Math.min(steepest, b));
  let slope = within(pairs === 0 ? 0 : medianInPlace(room, pairs));
  for (let i = 0; i < n; i++) room[i] = y[i]! - slope * x[i]!;
  let level = n === 0 ? 0 : medianInPlace(room, n);
  let spread = floor;
  const w = weights.slice();
  for (let turn = 0; turn < 6; turn++) {
    for (let i = 0; i < n; i++) room[i] = Math.abs(y[i]! - level - slope * x[i]!);
    spread = Math.max(floor, madToSd * (n === 0 ? 0 : medianInPlace(room, n)));
    for (let i = 0; i < n; i++) {
      const u = (y[i]! - level - slope * x[i]!) / (4.685 * spread);
      w[i] = Math.abs(u) >= 1 ? 0 : weights[i]! * (1 - u * u) ** 2;
    }
    const line = weightedLine(x, y, w, within);
    if (line === null) break;
    const moved = Math.abs(line.level - level) + Math.abs(line.slope - slope);
    level = line.level;
    slope = line.slope;
    if (moved < 1e-12 * (1 + Math.abs(level))) break;
  }
  return { level, slope, spread, levelError: levelErrorOf(x, w) * spread, n };
}

/** Used again: some ten thousand lines are fitted to a few points each. */
let room = new Float64Array(256);

function weightedLine(
  x: readonly number[],
  y: readonly number[],
  w: readonly number[],
  within: (slope: number) => number,
) {
  let sw = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < x.length; i++) {
    sw += w[i]!;
    sx += w[i]! * x[i]!;
    sy += w[i]! * y[i]!;
  }
  if (!(sw > 0)) return null;
  const mx = sx / sw;
  const my = sy / sw;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < x.length; i++) {
    sxx += w[i]! * (x[i]! - mx) ** 2;
    sxy += w[i]! * (x[i]! - mx) * (y[i]! - my);
  }
  const slope = sxx > 1e-9 * sw ? within(sxy / sxx) : 0;
  return { level: my - slope * mx, slope };
}

/** Standard error of the fitted value at x = 0 for unit spread: the length of its weights. */
function levelErrorOf(x: readonly number[], w: readonly number[]): number {
  let sw = 0;
  let sx = 0;
  for (let i = 0; i < x.length; i++) {
    sw += w[i]!;
    sx += w[i]! * x[i]!;
  }
  if (!(sw > 0)) return 1;
  const mx = sx / sw;
  let sxx = 0;
  for (let i = 0; i < x.length; i++) sxx += w[i]! * (x[i]! - mx) ** 2;
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    const slopePart = sxx > 1e-9 * sw ? (mx * (x[i]! - mx)) / sxx : 0;
    sum += (w[i]! * (1 / sw - slopePart)) ** 2;
  }
  return Math.sqrt(sum);
}
