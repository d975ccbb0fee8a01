import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { dayMs } from "../units/day-ms.js";

/** A mass at an instant; `errorG` is its standard error where known. */
export interface MassAt {
  readonly at: number;
  readonly massG: number;
  readonly errorG?: number;
}

export interface GainBetween {
  readonly from: number;
  readonly to: number;
  readonly days: number;
  /** Average daily gain, g/d: difference over time. */
  readonly gain: Measured;
  /** Relative gain, %/d: 100 ln(W2/W1) / days. */
  readonly relative: Measured;
}

/**
 * Gain between two weighings: difference over time, and relative gain
 * 100 ln(W2/W1)/days. Days are real elapsed time (24 h), not whole days, so a
 * clock change never bends a gain. The standard errors follow from the stated
 * errors of the two masses where both are given.
 *
 * Definition: average daily gain and relative growth rate, standard textbook
 * definitions of performance recording.
 *
 * @example gainBetween({ at: 0, massG: 2000 }, { at: 60 * 86_400_000, massG: 5000 }) // 50 g/d, 1.527151 %/d
 */
export function gainBetween(first: MassAt, second: MassAt): GainBetween {
  const days = (second.at - first.at) / dayMs;
  const span = { from: first.at, to: second.at, days };
  if (!(days > 0)) {
    const why = notice("gain-no-time-between", "caution", { from: first.at, to: second.at });
    return { ...span, gain: notDefined("g/d", why), relative: notDefined("%/d", why) };
  }
  if (!(first.massG > 0 && second.massG > 0)) {
    const why = notice("gain-mass-not-positive", "problem", {
      first: first.massG,
      second: second.massG,
    });
    return { ...span, gain: notDefined("g/d", why), relative: notDefined("%/d", why) };
  }
  const gain = (second.massG - first.massG) / days;
  const relative = (100 * Math.log(second.massG / first.massG)) / days;
  if (first.errorG === undefined || second.errorG === undefined) {
    return {
      ...span,
      gain: measured(gain, "g/d", { n: 2 }),
      relative: measured(relative, "%/d", { n: 2 }),
    };
  }
  const se = Math.hypot(first.errorG, second.errorG) / days;
  const seRelative =
    (100 * Math.hypot(first.errorG / first.massG, second.errorG / second.massG)) / days;
  return {
    ...span,
    gain: measured(gain, "g/d", { se, n: 2 }),
    relative: measured(relative, "%/d", { se: seRelative, n: 2 }),
  };
}
