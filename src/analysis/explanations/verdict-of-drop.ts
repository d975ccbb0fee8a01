import type { RivalVerdict } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import type { Range } from "./spell.js";

/**
 * The share of its energy that a growing young animal puts into growth lies
 * between these: the rest is maintenance and warmth, and is paid first. A tenth
 * less energy therefore costs a fifth to two thirds of the gain. Working values
 * of this project, wide on purpose.
 */
export const growthShare = { least: 0.15, usual: 0.3, most: 0.5 } as const;
/** A shortfall of energy below this share is not told from the noise of feeding, ... */
const leastDrop = 0.04;
/** ... and is called likely from here on. */
const clearDrop = 0.08;
/** Share of what is missing that a likely explanation must be able to cover. */
const covers = 0.6;

export interface JudgedDrop {
  readonly verdict: RivalVerdict;
  /** Share of the missing gain that it may cover, 0 to 1, at the generous end. */
  readonly weight: number;
  /** Share of the missing gain that it covers, between the two prices of a missing kcal. */
  readonly covered: Range | null;
}

/**
 * What a shortfall of energy, a share between two limits, says of the missing
 * gain: likely where it is clear and can cover most of it, possible where it is
 * there or cannot be ruled out, else the records speak against it.
 *
 * @example verdictOfDrop({ low: 0.2, high: 0.2 }, c).verdict // "likely"
 */
export function verdictOfDrop(drop: Range | null, c: SlowGainerCase): JudgedDrop {
  if (drop === null) return { verdict: "cannot be told", weight: 0, covered: null };
  const missing = c.deficit.share;
  const covered =
    missing === null || missing <= 0
      ? null
      : {
          low: Math.max(0, drop.low) / growthShare.most / missing,
          high: Math.max(0, drop.high) / growthShare.least / missing,
        };
  // The share of the range that lies above the noise counts, at the usual price.
  const there =
    drop.high > drop.low
      ? Math.min(1, Math.max(0, (drop.high - leastDrop) / (drop.high - drop.low)))
      : 1;
  const usual = (Math.max(0, drop.low) + Math.max(0, drop.high)) / 2 / growthShare.usual;
  const weight = missing === null || missing <= 0 ? 0 : there * Math.min(1, usual / missing);
  if (drop.high < leastDrop) return { verdict: "speaks against", weight, covered };
  const enough =
    covered === null ||
    Math.max(0, drop.low) / growthShare.least >= covers * Math.min(missing ?? 1, 1.2);
  const isSlow = c.deficit.slow === "slow" || c.deficit.slow === "loses";
  return {
    verdict: drop.low >= clearDrop && enough && isSlow ? "likely" : "possible",
    weight,
    covered,
  };
}
