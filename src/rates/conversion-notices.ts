import { type Notice, notice } from "../core/notice.js";
import type { Bounds } from "./bounds.js";
import type { ErrorsBetweenDays, SlopeWithError } from "./serial-slope.js";

/**
 * What a reader of a feed conversion must know of it: what came up was taken off, feeds
 * are missing or not known, weighings hang together from day to day.
 */
export function conversionNotices(of: {
  readonly animal: string;
  readonly kept: Bounds;
  readonly eatenG: Bounds;
  /** Times that something came up. */
  readonly cameUp: number;
  /** A stretch without a feed that is longer than records go without one, h; else null. */
  readonly gapH: number | null;
  /** Feeds of which it is not known what was eaten. */
  readonly unknown: number;
  readonly gain:
    | (Pick<SlopeWithError, "correlation" | "widening"> & { readonly lag1: number })
    | null;
  readonly weighings: number;
  readonly errors: ErrorsBetweenDays;
}): Notice[] {
  const { animal, kept, eatenG, gain } = of;
  const notices: Notice[] = [];
  if (kept.low < eatenG.low) {
    const { low, high } = kept;
    const parameters = { animal, n: of.cameUp, low, high: high ?? low };
    notices.push(notice("conversion-of-kept", "info", parameters));
  }
  if (of.gapH !== null)
    notices.push(notice("conversion-gap-in-feeds", "caution", { animal, hours: of.gapH }));
  if (of.unknown > 0)
    notices.push(notice("conversion-feed-unknown", "caution", { animal, n: of.unknown }));
  if (gain === null) return notices;
  // One-sided 5 % limit of the lag-1 correlation of independent residuals.
  const suspect = of.weighings >= 8 && gain.lag1 > 1.645 / Math.sqrt(of.weighings);
  if (of.errors === "independent" && suspect) {
    notices.push(notice("conversion-serial", "caution", { animal, lag1: gain.lag1 }));
  } else if (gain.correlation >= 0.2) {
    const { correlation, widening } = gain;
    notices.push(notice("conversion-serial-allowed", "info", { animal, correlation, widening }));
  }
  return notices;
}
