import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalSeries, NetWeighing, StudySettings } from "../series/animal-series.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { minuteMs } from "../units/minute-ms.js";
import { sumBounds } from "./bounds.js";
import { usableFeeds } from "./usable-feeds.js";

export interface TestWeighingOptions {
  readonly settings: Pick<StudySettings, "scaleErrorG">;
  /** Longest time between the two weighings, min. Default 90. */
  readonly longestMin?: number;
}

export interface TestWeighing {
  readonly before: number;
  readonly after: number;
  /** Mass after less mass before: what went in, less what came out meanwhile, g. */
  readonly taken: Measured;
  /** Eaten from the bottle in between as recorded; null where not known. */
  readonly recordedG: number | null;
  /** Taken less recorded, g. */
  readonly differenceG: number | null;
}

export interface TestWeighings {
  readonly animalId: string;
  readonly meals: readonly TestWeighing[];
  /** Mean of taken less recorded, with its 95 % interval. */
  readonly meanDifference: Measured;
}

/**
 * Intake by weighing before and after a feed, compared with the bottle. A pair
 * is a weighing marked "after" and the last one marked "before" within 90 min,
 * on the same scale where both name one, with a feed in between. Urine, stool
 * and breath in between make the taken amount a little too small. The standard
 * error comes from the scale's stated error.
 *
 * @example testWeighings(series, { settings }).value.meanDifference // { value: -3.1, unit: "g", interval: ..., n: 12 }
 */
export function testWeighings(
  series: AnimalSeries,
  options: TestWeighingOptions,
): Result<"test-weighing", TestWeighings> {
  const longestMin = options.longestMin ?? 90;
  const usable = usableFeeds(series);
  const meals: TestWeighing[] = [];
  let last: NetWeighing | null = null;
  for (const w of series.weighings) {
    if (w.netG === null || w.standing === "suspected slip") continue;
    if (w.row.meal === "before") last = w;
    if (w.row.meal !== "after" || last === null) continue;
    const first: NetWeighing = last;
    last = null;
    const sameScale =
      first.row.scaleId === null || w.row.scaleId === null || first.row.scaleId === w.row.scaleId;
    if (!sameScale || w.at - first.at > longestMin * minuteMs) continue;
    const feeds = usable.feeds.filter((f) => f.at >= first.at && f.at <= w.at);
    if (feeds.length === 0) continue;
    const recorded = sumBounds(feeds.map((f) => f.eatenG)).value;
    const takenG = w.netG - first.netG!;
    const error = w.row.scaleId === null ? undefined : options.settings.scaleErrorG[w.row.scaleId];
    meals.push({
      before: first.at,
      after: w.at,
      taken: measured(takenG, "g", error === undefined ? {} : { se: Math.SQRT2 * error }),
      recordedG: recorded,
      differenceG: recorded === null ? null : takenG - recorded,
    });
  }
  const notices: Notice[] = [];
  const animal = series.animal.animalId;
  const differences = meals.flatMap((m) => (m.differenceG === null ? [] : [m.differenceG]));
  if (differences.length === 0) notices.push(notice("test-weighing-none", "info", { animal }));
  return {
    kind: "test-weighing",
    schema: 1,
    value: { animalId: animal, meals, meanDifference: meanWithInterval(differences, animal) },
    method: {
      name: "Mass after less mass before a feed",
      options: { longestMin },
      citations: [],
    },
    basis: {
      used: differences.length,
      leftOut:
        differences.length === meals.length
          ? []
          : [{ reason: "recorded amount not known", count: meals.length - differences.length }],
      of: "weighed meals",
    },
    diagnostics: {},
    notices,
  };
}

function meanWithInterval(values: readonly number[], animal: string): Measured {
  const n = values.length;
  if (n === 0) return notDefined("g", notice("test-weighing-none", "info", { animal }));
  const mean = values.reduce((a, b) => a + b, 0) / n;
  if (n < 2) return measured(mean, "g", { n });
  const sd = Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (n - 1));
  const se = sd / Math.sqrt(n);
  const half = studentTQuantile(0.975, n - 1) * se;
  return measured(mean, "g", {
    se,
    n,
    interval: { lower: mean - half, upper: mean + half, level: 0.95 },
  });
}
