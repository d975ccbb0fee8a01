import { solveLowerInPlace } from "../../stats/state-space/group-fit.js";
import type { LeftOutWeighing } from "./expected-at.js";
import type { MeanGainEstimate } from "./mean-gain-curve.js";
import type { RunningAnimal } from "./running-animal.js";
import type { WatchedDay } from "./watched-day.js";

/** A weighing further off than this many standard errors is pulled in to it. */
const surpriseCut = 3.5;

/**
 * The standardised surprise of an animal's newest weighing, given everything
 * else that is known, and what the weighing was expected to be. The animal
 * learns the surprise, tamed; a weighing far off is pulled in, so that one slip
 * does not speak for days.
 */
export function todaysSurprise(
  w: RunningAnimal,
  mean: MeanGainEstimate,
  /** Works out the expected gain without today's weighing; null where it is not wanted. */
  expectedGain: ((left: LeftOutWeighing) => NonNullable<WatchedDay["expected"]>["gain"]) | null,
): { readonly surprise: number; readonly expected: WatchedDay["expected"] } {
  const index = w.count - 1;
  if (index < 1) return { surprise: Number.NaN, expected: null };
  const { factor, gains } = mean;
  const width = gains.length;
  const stride = width + 1;
  const { filtered } = w;
  const x = filtered.slice(index * stride, index * stride + width);
  let e = filtered[index * stride + width]!;
  for (let k = 0; k < width; k++) e -= x[k]! * gains[k]!;
  solveLowerInPlace(factor, width, x);
  let leverage = 0;
  for (let k = 0; k < width; k++) leverage += x[k]! * x[k]!;
  const root = Math.sqrt(Math.max(1e-6, 1 - leverage));
  const surprise = e / root;
  const sd = 1 / (root * w.gains!.table[index * 7 + 6]!);
  const gain = expectedGain?.({ solved: x, residual: e, leverage }) ?? null;
  const expected = { logMass: w.y[index]! - surprise * sd, sd, gain };
  const tamed = Math.max(-surpriseCut, Math.min(surpriseCut, surprise));
  w.learn(tamed);
  if (tamed !== surprise) {
    w.y[index]! -= (surprise - tamed) * sd;
    filtered[index * stride + width]! -= (surprise - tamed) / root;
  }
  return { surprise, expected };
}
