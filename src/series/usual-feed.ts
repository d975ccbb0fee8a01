import { madToSd } from "../stats/descriptive/mad-to-sd.js";
import { median } from "../stats/descriptive/median.js";

/** What an animal is usually offered of a diet around an instant, as logarithms of grams. */
export interface UsualFeed {
  readonly log: number;
  readonly spread: number;
  /** How many of the feeds around are like the one in question. */
  readonly alike: number;
}

/** How many feeds of the same diet on each side say what is usual. */
export const EACH_SIDE = 12;
const FEWEST = 3;
/** Two amounts are alike within a fifth (log scale). */
export const ALIKE = Math.log(1.2);
/** How far an order alone lets a feed be from it: a ratio of three, at six spreads. */
const BY_ORDER_SPREAD = Math.log(3) / 6;

/**
 * What is usual among the feeds before and after a place in `logs`; null where
 * there are fewer than three.
 */
export function usualFeed(
  logs: readonly number[],
  before: number,
  after: number,
  log: number,
): UsualFeed | null {
  const near = [
    ...logs.slice(Math.max(0, before - EACH_SIDE), before),
    ...logs.slice(after, after + EACH_SIDE),
  ];
  if (near.length < FEWEST) return null;
  const middle = median(near)!;
  return {
    log: middle,
    spread: madToSd * median(near.map((x) => Math.abs(x - middle)))!,
    alike: near.filter((x) => Math.abs(x - log) < ALIKE).length,
  };
}

/** Too few feeds yet: the order nearest to what was written says what is usual, loosely. */
export function usualByOrder(ordered: readonly number[], log: number): UsualFeed | null {
  if (ordered.length === 0) return null;
  const logs = ordered.map(Math.log);
  const near = logs.reduce((a, b) => (Math.abs(b - log) < Math.abs(a - log) ? b : a));
  return { log: near, spread: BY_ORDER_SPREAD, alike: 0 };
}
