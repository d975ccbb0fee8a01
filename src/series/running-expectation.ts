import { dayMs } from "../units/day-ms.js";
import type { Instant } from "./animal-series.js";
import { conditionErrors } from "./condition.js";
import { robustLine } from "./robust-line.js";

/** A net mass at an instant, in or out of the pool that others are held against. */
export interface PoolPoint {
  readonly at: Instant;
  readonly logG: number;
  readonly trusted: boolean;
}

/** What an animal should weigh at an instant, going by its other weighings. */
export interface Expectation {
  readonly logG: number;
  /** Standard error of `logG` for weighings with a standard deviation of one. */
  readonly leverage: number;
  /** Robust standard deviation of the neighbours about their line, log scale. */
  readonly local: number;
  /** What growth may have bent between here and the nearest neighbour, log scale. */
  readonly bend: number;
}

/** How many neighbours on each side, and how far away, are asked. */
const EACH_SIDE = 6;
const NEAR_DAYS = 8;
const FAR_DAYS = 21;
const FEWEST = 2;
/** Nothing that lives gains or loses more than this a day for days (log scale). */
const STEEPEST = 0.06;

/**
 * A robust running expectation: a bisquare line through the logarithms of the
 * nearest weighings in time. `null` where fewer than two others lie within
 * three weeks.
 */
export function expectationFrom(near: readonly PoolPoint[], at: Instant): Expectation | null {
  if (near.length < FEWEST) return null;
  const x = near.map((p) => (p.at - at) / dayMs);
  const y = near.map((p) => p.logG);
  let reach = NEAR_DAYS;
  let gap = Number.POSITIVE_INFINITY;
  for (const d of x) {
    reach = Math.max(reach, Math.abs(d));
    gap = Math.min(gap, Math.abs(d));
  }
  const weights = x.map((d) => (1 - (Math.abs(d) / (1.05 * reach)) ** 3) ** 3);
  const line = robustLine(x, y, weights, conditionErrors.usual, STEEPEST);
  // Growth bends: the further away the nearest neighbour, the less the line knows.
  const oneSided = x[0]! > 0 || x.at(-1)! < 0;
  return {
    logG: line.level,
    leverage: line.levelError / line.spread,
    local: line.spread,
    bend: (oneSided ? 0.012 : 0.003) * Math.max(0, gap - 0.5),
  };
}

/** The nearest trusted points on both sides of an instant, in order of time, the one at `skip` left out. */
export function neighbours(
  points: readonly PoolPoint[],
  at: Instant,
  skip: number,
): readonly PoolPoint[] {
  let low = 0;
  let high = points.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (points[middle]!.at < at) low = middle + 1;
    else high = middle;
  }
  const side = (step: 1 | -1, from: number) => {
    const found: PoolPoint[] = [];
    for (let i = from; i >= 0 && i < points.length && found.length < EACH_SIDE; i += step) {
      const p = points[i]!;
      const away = Math.abs(p.at - at) / dayMs;
      if (away > (found.length < FEWEST + 1 ? FAR_DAYS : NEAR_DAYS)) break;
      if (i !== skip && p.trusted) found.push(p);
    }
    return found;
  };
  return [...side(-1, low - 1).reverse(), ...side(1, low)];
}
