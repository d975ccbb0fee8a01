import type { GroupParameters } from "../../stats/state-space/group.js";

/** Exponents for one size of group, found by the bench `flag-widening` on training groups. */
export interface Exponents {
  /** Of the share of the noise that lasts, less 0.1. */
  readonly share: number;
  /** Of the daily step as a share of the noise, over 0.07. */
  readonly walk: number;
  /** Of the spread of slopes, over 0.0008 per day. */
  readonly slope: number;
  /** Of 1 + the mean known variance of the animal's weighings, in units of the noise variance. */
  readonly known: number;
}

type Trained = readonly [animals: number, exponents: Exponents];
const sizes: readonly [Trained, Trained] = [
  [11, { share: -0.122, walk: 0.496, slope: 0.437, known: -0.049 }],
  [26, { share: -0.093, walk: 0.34, slope: 0.142, known: -0.03 }],
];

/**
 * How much wider the thresholds of the signals of slowing must be in a group
 * whose gain is estimated to wander more, so that one threshold keeps its rate of
 * false flags: the estimates themselves are uncertain, and more so there and in a
 * small group. Where weighings carry a known error of their own (wet, carried,
 * after a meal), fewer of them speak, and the threshold may be lower. Interpolated
 * in 1/animals between the two sizes that were trained, constant beyond them.
 *
 * @example widening({ noiseSd: 0.015, persistentShare: 0.1, slopeSd: 0.0008, walkSd: 0.00105 }, 11, 0) // 1
 */
export function widening(p: GroupParameters, animals: number, meanKnownVariance: number): number {
  const e = exponentsFor(animals);
  return Math.exp(
    e.share * (p.persistentShare - 0.1) +
      e.walk * Math.log(p.walkSd / p.noiseSd / 0.07) +
      e.slope * Math.log(p.slopeSd / 0.0008) +
      e.known * Math.log1p(meanKnownVariance / p.noiseSd ** 2),
  );
}

/** The exponents for a size of group. @example exponentsFor(11).slope // 0.437 */
export function exponentsFor(animals: number): Exponents {
  const [[few, small], [many, large]] = sizes;
  const w = Math.max(0, Math.min(1, (1 / animals - 1 / many) / (1 / few - 1 / many)));
  const at = (key: keyof Exponents) => large[key] + w * (small[key] - large[key]);
  return { share: at("share"), walk: at("walk"), slope: at("slope"), known: at("known") };
}
