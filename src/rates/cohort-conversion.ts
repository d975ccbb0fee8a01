import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { LeftOut, Result } from "../core/result.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { ratioSet } from "../stats/hypothesis-tests/ratio-set.js";
import { type Bounds, nearlyKnown } from "./bounds.js";
import type { FeedConversion } from "./feed-conversion.js";

export interface CohortConversion {
  readonly animals: readonly string[];
  readonly gainedG: number;
  /** Sum of feed over sum of gain, and its reciprocal, on three bases. */
  readonly feedPerGain: {
    readonly asFed: Measured;
    readonly dryMatter: Measured;
    readonly energy: Measured;
  };
  readonly gainPerFeed: {
    readonly asFed: Measured;
    readonly dryMatter: Measured;
    readonly energy: Measured;
  };
}

/**
 * Feed conversion of a cohort: the ratio of sums, not the mean of ratios (an
 * animal that hardly gained would rule the mean). The interval is Fieller's with
 * animals as the sample, so it speaks of animals like these; it needs three.
 * Animals whose feed is not known to within 3 % (the middle stands for a range
 * that narrow) or cannot be attributed are left out and counted; those that lost
 * mass stay in.
 *
 * @example cohortConversion(conversions).value.feedPerGain.asFed // { value: 20.4, unit: "g/g", interval: ..., n: 6 }
 */
export function cohortConversion(
  conversions: readonly FeedConversion[],
  options: { readonly level?: number; readonly boundsPct?: number } = {},
): Result<"cohort-conversion", CohortConversion> {
  const level = options.level ?? 0.95;
  const boundsPct = options.boundsPct ?? 3;
  const leftOut: LeftOut[] = [];
  const usable = conversions.filter(
    (c) => isAttributable(c) && nearlyKnown(c.kept.g, boundsPct) !== null,
  );
  if (usable.length < conversions.length) {
    leftOut.push({
      reason: "feed kept not known well enough, or conversion not computed",
      count: conversions.length - usable.length,
    });
  }
  const both = (amount: (c: FeedConversion) => Bounds, unit: string) => {
    const rows = usable.flatMap((c) => {
      const feed = nearlyKnown(amount(c), boundsPct);
      return feed === null ? [] : [{ feed, gain: c.gainedG! }];
    });
    return {
      feedPerGain: ratioOfSums(
        rows.map((r) => [r.feed, r.gain] as const),
        `${unit}/g`,
        level,
        true,
      ),
      gainPerFeed: ratioOfSums(
        rows.map((r) => [r.gain, r.feed] as const),
        `g/${unit}`,
        level,
        false,
      ),
    };
  };
  const asFed = both((c) => c.kept.g, "g");
  const dry = both((c) => c.kept.dryMatterG, "g");
  const energy = both((c) => c.kept.kcal, "kcal");
  return {
    kind: "cohort-conversion",
    schema: 1,
    value: {
      animals: usable.map((c) => c.animalId),
      gainedG: usable.reduce((s, c) => s + c.gainedG!, 0),
      feedPerGain: {
        asFed: asFed.feedPerGain,
        dryMatter: dry.feedPerGain,
        energy: energy.feedPerGain,
      },
      gainPerFeed: {
        asFed: asFed.gainPerFeed,
        dryMatter: dry.gainPerFeed,
        energy: energy.gainPerFeed,
      },
    },
    method: {
      name: "Ratio of sums over animals, Fieller interval",
      options: { level, boundsPct },
      citations: ["Fieller 1954, J R Stat Soc B 16:175-185"],
    },
    basis: { used: usable.length, leftOut, of: "animals" },
    diagnostics: {},
    notices: [],
  };
}

/** Whether the feed of the window can be set against the gain at all. */
export function isAttributable(c: FeedConversion): boolean {
  const { value, range } = c.gainPerFeed.asFed;
  return c.gainedG !== null && (value !== null || range !== null);
}

function ratioOfSums(
  rows: readonly (readonly [number, number])[],
  unit: string,
  level: number,
  positive: boolean,
): Measured {
  const n = rows.length;
  const a = rows.reduce((s, r) => s + r[0], 0);
  const b = rows.reduce((s, r) => s + r[1], 0);
  if (n === 0) return notDefined(unit, notice("cohort-conversion-no-animals", "caution", {}));
  if (!(b > 0)) return notDefined(unit, notice("cohort-conversion-no-gain", "caution", { sum: b }));
  if (n < 3) return measured(a / b, unit, { n });
  const ma = a / n;
  const mb = b / n;
  let vaa = 0;
  let vbb = 0;
  let vab = 0;
  for (const [x, y] of rows) {
    vaa += (x - ma) ** 2;
    vbb += (y - mb) ** 2;
    vab += (x - ma) * (y - mb);
  }
  const scale = 1 / ((n - 1) * n);
  const set = ratioSet(
    {
      numerator: ma,
      denominator: mb,
      numeratorVariance: vaa * scale,
      denominatorVariance: vbb * scale,
      covariance: vab * scale,
    },
    studentTQuantile(0.5 + level / 2, n - 1),
  );
  const low = set.kind === "bounded" ? set.lower : set.kind === "two rays" ? set.above : null;
  const lower = positive ? Math.max(0, low ?? 0) : low;
  return measured(a / b, unit, {
    n,
    interval: { lower, upper: set.kind === "bounded" ? set.upper : null, level },
  });
}
