import { measured } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { AnimalSeries, CivilDate } from "../series/animal-series.js";
import { daysBetween } from "../units/calendar.js";
import type { NotJudged, Signal } from "./flag.js";

export interface LossOptions {
  /** How far back the peak is looked for, days. Default 7. */
  readonly peakDays?: number;
  /** Raised at this loss, per cent of the peak. Default 5 (common practice, no published limit). */
  readonly limitPct?: number;
  /** First day that counts (the end of the arrival phase). */
  readonly since?: CivilDate | null;
  /** Newest weighing may be this old, days. Default 1. */
  readonly freshWithinD?: number;
}

/**
 * Loss from the recent peak: the heaviest day's weighing of the last days
 * against the newest one, in per cent of the peak. Data up to `onDay` only. No
 * loss gives a value of 0, never a negative one.
 *
 * @example lossFromPeak(series, "2031-05-14") // value 6.2 %, raised
 */
export function lossFromPeak(
  series: AnimalSeries,
  onDay: CivilDate,
  options: LossOptions = {},
): Signal | NotJudged {
  const peakDays = options.peakDays ?? 7;
  const limit = options.limitPct ?? 5;
  const rows = series.daily.filter(
    (d) =>
      d.feedingDay <= onDay &&
      daysBetween(d.feedingDay, onDay) <= peakDays &&
      (options.since == null || d.feedingDay >= options.since),
  );
  const now = rows.at(-1);
  const animal = series.animal.animalId;
  if (now === undefined || daysBetween(now.feedingDay, onDay) > (options.freshWithinD ?? 1)) {
    return {
      kind: "loss from peak",
      why: notice("flag-no-recent-weighing", "info", { animal, day: onDay }),
    };
  }
  if (rows.length < 2) {
    return {
      kind: "loss from peak",
      why: notice("flag-one-weighing", "info", { animal, days: peakDays }),
    };
  }
  const peak = rows.reduce((best, row) => (row.massG > best.massG ? row : best));
  const loss = Math.max(0, 100 * (1 - now.massG / peak.massG));
  const se = (100 * Math.hypot(now.errorG, (peak.errorG * now.massG) / peak.massG)) / peak.massG;
  const parameters = {
    animal,
    loss,
    peak: peak.massG,
    peakDay: peak.feedingDay,
    now: now.massG,
    limit,
  };
  return {
    kind: "loss from peak",
    class: "practice",
    direction: "low",
    raised: loss >= limit,
    strength: loss / limit,
    value: measured(loss, "%", { se, n: rows.length }),
    threshold: limit,
    evidence: {
      peak_g: peak.massG,
      peak_day: peak.feedingDay,
      now_g: now.massG,
      now_day: now.feedingDay,
      loss_g: peak.massG - now.massG,
    },
    sentence: notice("flag-loss-from-peak", loss >= limit ? "problem" : "info", parameters),
  };
}
