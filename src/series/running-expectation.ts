import { dayMs } from "../units/day-ms.js";
import type { Instant } from "./animal-series.js";
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
  /** Standard deviation of a single weighing about it, on the log scale. */
  readonly spread: number;
  readonly neighbours: number;
}

/** How many neighbours on each side, and how far away, are asked. */
const EACH_SIDE = 6;
const NEAR_DAYS = 8;
const FAR_DAYS = 21;
const FEWEST = 3;
/** Two weighings of one day differ by this much for honest reasons (share of mass, sd). */
const FLOOR = 0.02;

/**
 * A robust running expectation: a bisquare line through the logarithms of the
 * nearest weighings in time, the one at `skip` left out. `null` where fewer
 * than three others lie within three weeks.
 */
export function expectationAt(
  points: readonly PoolPoint[],
  at: Instant,
  skip: number,
): Expectation | null {
  const near = neighbours(points, at, skip);
  if (near.length < FEWEST) return null;
  const x = near.map((p) => (p.at - at) / dayMs);
  const y = near.map((p) => p.logG);
  const reach = Math.max(NEAR_DAYS, ...x.map(Math.abs)) * 1.05;
  const weights = x.map((d) => (1 - (Math.abs(d) / reach) ** 3) ** 3);
  const line = robustLine(x, y, weights, FLOOR);
  // Growth bends: the further away the nearest neighbour, the less the line knows.
  const gap = Math.min(...x.map(Math.abs));
  const oneSided = x.every((d) => d > 0) || x.every((d) => d < 0);
  const bend = (oneSided ? 0.012 : 0.003) * Math.max(0, gap - 0.5);
  return {
    logG: line.level,
    spread: Math.sqrt(line.spread ** 2 + line.levelError ** 2 + bend ** 2),
    neighbours: near.length,
  };
}

/** Points must be in order of time. */
function neighbours(points: readonly PoolPoint[], at: Instant, skip: number): PoolPoint[] {
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
      if (away > (found.length < FEWEST ? FAR_DAYS : NEAR_DAYS)) break;
      if (i !== skip && p.trusted) found.push(p);
    }
    return found;
  };
  return [...side(-1, low - 1).reverse(), ...side(1, low)];
}
