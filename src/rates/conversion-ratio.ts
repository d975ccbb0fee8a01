import type { Interval, Measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import { ratioSet } from "../stats/hypothesis-tests/ratio-set.js";
import { type Bounds, between } from "./bounds.js";

/** A ratio; `range` holds its ends where the feed is known only within bounds. */
export interface ConversionRatio extends Measured {
  readonly range: Bounds | null;
}

/** What a ratio is made from. */
export interface RatioParts {
  readonly amount: Bounds;
  readonly variance: number;
  readonly gained: number | null;
  readonly gainedVariance: number;
  readonly t: number;
  readonly level: number;
  readonly stop: Notice | null;
  readonly feedUnit: string;
  readonly animal: string;
}

/** Gain per feed and feed per gain at both ends of what may have been eaten. */
export function conversionRatios(b: RatioParts): {
  gainPerFeed: ConversionRatio;
  feedPerGain: ConversionRatio;
} {
  const gainUnit = `g/${b.feedUnit}`;
  const feedUnit = `${b.feedUnit}/g`;
  const none = (unit: string, why: Notice): ConversionRatio => ({
    value: null,
    unit,
    why,
    range: null,
  });
  const { amount, gained, animal } = b;
  if (b.stop !== null || gained === null) {
    const why =
      b.stop ?? notice("conversion-few-weighings", "caution", { animal, n: 0, needed: 3 });
    return { gainPerFeed: none(gainUnit, why), feedPerGain: none(feedUnit, why) };
  }
  if (amount.high === 0) {
    const why = notice("conversion-nothing-eaten", "caution", { animal });
    return { gainPerFeed: none(gainUnit, why), feedPerGain: none(feedUnit, why) };
  }
  const ends = amount.value !== null ? [amount.value] : [amount.low, amount.high];
  const unknown = notice("conversion-feed-bounds", "caution", {
    animal,
    low: amount.low,
    high: amount.high,
    unit: b.feedUnit,
  });
  const gainPerFeed = joined(
    ends.map((feed) => perFeed(b, gained, feed)),
    gainUnit,
    b.level,
    unknown,
  );
  if (!(gained > 0)) {
    const why = notice("conversion-no-gain", "caution", { animal, gained });
    return { gainPerFeed, feedPerGain: none(feedUnit, why) };
  }
  const feedPerGain = joined(
    ends.map((feed) => perGain(b, gained, feed)),
    feedUnit,
    b.level,
    unknown,
  );
  return { gainPerFeed, feedPerGain };
}

interface End {
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

function perFeed(b: RatioParts, gained: number, feed: number | null): End {
  // Feed without an upper limit: gain per feed may come down to nothing.
  if (feed === null) return { value: 0, lower: 0, upper: 0 };
  if (feed === 0) return { value: null, lower: null, upper: null };
  const set = ratioSet(
    {
      numerator: gained,
      denominator: feed,
      numeratorVariance: b.gainedVariance,
      denominatorVariance: b.variance,
    },
    b.t,
  );
  const value = gained / feed;
  return set.kind === "bounded"
    ? { value, lower: set.lower, upper: set.upper }
    : { value, lower: null, upper: null };
}

function perGain(b: RatioParts, gained: number, feed: number | null): End {
  if (feed === null) return { value: null, lower: null, upper: null };
  const set = ratioSet(
    {
      numerator: feed,
      denominator: gained,
      numeratorVariance: b.variance,
      denominatorVariance: b.gainedVariance,
    },
    b.t,
  );
  const value = feed / gained;
  if (set.kind === "bounded") return { value, lower: Math.max(0, set.lower), upper: set.upper };
  // The gain may be zero: from the positive ray's begin upwards, without an end.
  return { value, lower: set.kind === "two rays" ? Math.max(0, set.above) : 0, upper: null };
}

function joined(
  ends: readonly End[],
  unit: string,
  level: number,
  unknown: Notice,
): ConversionRatio {
  const interval = envelope(ends, level);
  if (ends.length === 1) {
    const only = ends[0]!;
    return only.value === null
      ? { value: null, unit, why: unknown, range: null }
      : { value: only.value, unit, interval, range: null };
  }
  const values = ends.map((e) => e.value);
  const numbers = values.filter((v): v is number => v !== null);
  const low = numbers.length === 0 ? 0 : Math.min(...numbers);
  const high = values.includes(null) ? null : Math.max(...numbers);
  return { value: null, unit, why: unknown, interval, range: between(low, high) };
}

function envelope(ends: readonly End[], level: number): Interval {
  const lowers = ends.map((e) => e.lower);
  const uppers = ends.map((e) => e.upper);
  const numbers = (xs: readonly (number | null)[]) => xs.filter((x): x is number => x !== null);
  return {
    lower: lowers.every((x) => x === null) ? null : Math.min(...numbers(lowers)),
    upper: uppers.includes(null) ? null : Math.max(...numbers(uppers)),
    level,
  };
}
