import type { GroupParameters } from "../stats/state-space-group.js";

/**
 * How much wider the thresholds of the signals of slowing must be in a group
 * whose gain is estimated to wander more, so that one threshold keeps its rate of
 * false flags: the estimates themselves are uncertain, and more so there and in a
 * small group. The exponents were found on training groups of 11 and of 26 (the
 * bench `flag-thresholds` tells how) and are interpolated in 1/animals.
 */
export function widening(p: GroupParameters, animals: number): number {
  const small = Math.max(0, Math.min(1, (1 / animals - 1 / 26) / (1 / 11 - 1 / 26)));
  const walk = 0.28 + small * (0.45 - 0.28);
  const slope = -0.1 + small * (0.15 + 0.1);
  return Math.exp(
    walk * Math.log(p.walkSd / p.noiseSd / 0.07) + slope * Math.log(p.slopeSd / 0.0008),
  );
}
