import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import type { Interval } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { seededRandom } from "../core/random.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { ratioSet } from "../stats/hypothesis-tests/ratio-set.js";
import { dayMs } from "../units/day-ms.js";
import { windowRows } from "./conversion-window.js";
import { type ConversionOptions, feedConversion } from "./feed-conversion.js";
import { slopePivots } from "./slope-pivots.js";

export interface ResampleConversionOptions
  extends Omit<ConversionOptions, "errors" | "evidence">,
    LongWork {
  /** Resamples. Default 1999. */
  readonly draws?: number;
}

export interface ResampledConversion {
  readonly animalId: string;
  /** Feed per gain as fed, g/g, with both intervals; null where not defined. */
  readonly feedPerGain: number | null;
  readonly fieller: Interval | null;
  /** Bootstrap-t; `upper: null` where the gain may be zero. */
  readonly bootstrap: Interval | null;
  readonly draws: number;
}

/**
 * A bootstrap interval for the feed conversion of one animal (as fed) beside
 * Fieller's: residuals of the mass line are drawn anew (scaled by their
 * leverage), the slope refitted, and the studentised deviations take the place
 * of Student's t. It does not lean on normal errors; where the two differ much,
 * look at the weighings. Both take errors of neighbouring days as independent:
 * where they hang together both are too narrow, and the interval of
 * `feedConversion` is the one to use.
 *
 * Source: Efron and Tibshirani, An Introduction to the Bootstrap (1993), ch. 9
 * and 12.
 *
 * @param options needs a `seed`; the same seed gives the same interval.
 * @example resampleConversion(series, { seed: 1 }).value.bootstrap // { lower: 6.9, upper: 9.3, ... }
 */
export function resampleConversion(
  series: AnimalSeries,
  options: ResampleConversionOptions,
): Result<"resample-conversion", ResampledConversion> {
  const { seed = 1, signal, onProgress, draws = 1999, ...rest } = options;
  // Residuals drawn one by one are independent, so the interval beside them is too.
  const plain = feedConversion(series, { ...rest, errors: "independent" });
  const { value } = plain;
  const asFed = value.feedPerGain.asFed;
  const level = rest.level ?? 0.95;
  let bootstrap: Interval | null = null;
  const defined = asFed.value !== null && value.gainedG !== null && value.days !== null;
  if (defined && value.kept.g.value !== null) {
    const rows = windowRows(series.daily, rest.endAt ?? series.daily.at(-1)!.at, rest.days ?? 14);
    const x = rows.map((r) => (r.at - rows[0]!.at) / dayMs);
    const y = rows.map((r) => r.massG);
    const pivots = slopePivots(x, y, draws, seededRandom(seed), (done) => {
      stopIfCancelled(signal);
      onProgress?.({ done, total: draws, doing: "drawing residuals anew" });
    });
    const at = (p: number) =>
      pivots[Math.min(draws - 1, Math.max(0, Math.round(p * (draws + 1)) - 1))]!;
    const parts = {
      numerator: value.kept.g.value,
      denominator: value.gainedG!,
      numeratorVariance: value.feeds * (rest.feedErrorG ?? 1) ** 2,
      denominatorVariance: (value.gain.se! * value.days!) ** 2,
    };
    // Gain is high where the pivot is low: the two tails swap on the ratio.
    const low = ratioSet(parts, Math.max(0, -at(0.5 - level / 2)));
    const high = ratioSet(parts, Math.max(0, at(0.5 + level / 2)));
    bootstrap = {
      lower:
        low.kind === "bounded" ? Math.max(0, low.lower) : low.kind === "two rays" ? low.above : 0,
      upper: high.kind === "bounded" ? high.upper : null,
      level,
    };
  }
  return {
    kind: "resample-conversion",
    schema: 1,
    value: {
      animalId: value.animalId,
      feedPerGain: asFed.value,
      fieller: asFed.interval ?? null,
      bootstrap,
      draws,
    },
    method: {
      name: "Bootstrap-t of the mass line's residuals",
      options: { ...plain.method.options, draws, seed },
      citations: ["Efron and Tibshirani 1993, An Introduction to the Bootstrap"],
    },
    basis: plain.basis,
    diagnostics: {},
    notices:
      bootstrap === null
        ? [
            ...plain.notices,
            notice("conversion-not-resampled", "caution", { animal: value.animalId }),
          ]
        : plain.notices,
  };
}
