import { madToSd } from "../stats/descriptive/mad-to-sd.js";
import { conditionErrors } from "./condition.js";

/** A residual of one weighing against the others, scaled to a standard deviation of one weighing. */
export type Residual = number | null;

/** How many of the nearest weighings say how much this animal's weighings vary. */
const NEAREST = 40;
/** Before anything is known of an animal, and for how many weighings that counts. */
const BEFOREHAND = 0.02;
const BEFOREHAND_COUNTS = 3;
/** A standard deviation of what lies within 2.5 of them is 0.955 of the whole. */
const CUT = 2.5;
const CUT_SHARE = 0.9113;

/** How much the weighings of an animal vary about their own course at one of them. */
export interface OwnNoise {
  /** Standard deviation on the log scale. */
  readonly sd: number;
  /** How many weighings it rests on. */
  readonly n: number;
}

/**
 * The animal's own noise at each of its weighings: the spread of the residuals
 * of its 40 nearest other weighings, those beyond 2.5 standard deviations cut
 * off, mixed with 2 % for three weighings' worth, so that a newcomer is judged
 * widely. Never below the unavoidable share of gut and bladder fill (0.7 %).
 */
export function ownNoise(residuals: readonly Residual[]): readonly OwnNoise[] {
  const places: number[] = [];
  const sizes: number[] = [];
  residuals.forEach((r, i) => {
    if (r === null) return;
    places.push(i);
    sizes.push(Math.abs(r));
  });
  const sorted = new Float64Array(NEAREST + 1);
  let from = 0;
  return residuals.map((_, i) => {
    // The window of nearest ones by count slides on.
    while (
      from + NEAREST < places.length &&
      Math.abs((places[from + NEAREST] ?? 0) - i) < Math.abs(places[from]! - i)
    )
      from++;
    const to = Math.min(places.length, from + NEAREST + 1);
    let n = 0;
    for (let k = from; k < to; k++) if (places[k] !== i) sorted[n++] = sizes[k]!;
    return { sd: mixed(sorted, n), n };
  });
}

function mixed(sizes: Float64Array, n: number): number {
  let sum = BEFOREHAND_COUNTS * BEFOREHAND ** 2;
  if (n > 0) {
    const window = sizes.subarray(0, n).sort();
    const middle = (window[n >> 1]! + window[(n - 1) >> 1]!) / 2;
    const limit = CUT * Math.max(conditionErrors.usual, madToSd * middle);
    let kept = 0;
    let squares = 0;
    for (let k = 0; k < n && window[k]! <= limit; k++) {
      kept++;
      squares += window[k]! ** 2;
    }
    sum += (n * squares) / (kept * CUT_SHARE);
  }
  return Math.max(conditionErrors.usual, Math.sqrt(sum / (BEFOREHAND_COUNTS + n)));
}
