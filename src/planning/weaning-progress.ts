import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import type { CivilDate } from "../series/animal-series.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { dayMs } from "../units/day-ms.js";
import { curveDaysLeft, fitSCurve, sCurve } from "./weaning-curve.js";

export interface WeaningOptions {
  /** Days the present pace is read from. Default 10. */
  readonly paceDays?: number;
  /** Share of energy from solids that counts as weaned, %. Default 95. */
  readonly weanedPct?: number;
  /** A pace surely below this is a stall, % per day. Default 0.5 (own choice). */
  readonly stallPctPerDay?: number;
}

export interface WeaningPoint {
  readonly feedingDay: CivilDate;
  /** Share of energy from solids, %; between `low` and `high` where not known exactly. */
  readonly sharePct: number | null;
  readonly low: number;
  readonly high: number;
  /** The S-shaped curve through all days; null where none could be fitted. */
  readonly curvePct: number | null;
}

export interface WeaningProgress {
  readonly days: readonly WeaningPoint[];
  readonly state: "not begun" | "under way" | "stalled" | "weaned" | "not known";
  /** First day with solids eaten. */
  readonly begunOn: CivilDate | null;
  /** Present share (mean of the last three days) and pace over the last days. */
  readonly sharePct: Measured;
  readonly pacePctPerDay: Measured;
  /** Days from the last day to full weaning at the present pace; upper end null when it may never come. */
  readonly daysToWeaned: Measured;
  /** Where a stall is: the first day of the flat stretch. */
  readonly stalledSince: CivilDate | null;
  /**
   * Middle of the S curve, days after the first solid, its pace there, % per day,
   * and the days left until it reaches the weaned share.
   */
  readonly curve: {
    readonly middleD: number;
    readonly steepestPctPerDay: number;
    readonly daysToWeaned: Measured;
  } | null;
}

/**
 * Weaning of one animal as the share of its energy that comes from solids: day
 * by day, as an S-shaped curve, the present pace (least squares over the last
 * days), the days that are left at that pace, and whether it has stalled (the
 * upper end of the pace's 95 % interval lies below a small pace while the share
 * is still under the weaned one).
 *
 * @example weaningProgress(intake.value).value.daysToWeaned // { value: 12.4, unit: "d", interval: ... }
 */
export function weaningProgress(
  intake: readonly IntakeDay[],
  options: WeaningOptions = {},
): Result<"weaning-progress", WeaningProgress> {
  const o = {
    paceDays: options.paceDays ?? 10,
    weanedPct: options.weanedPct ?? 95,
    stallPctPerDay: options.stallPctPerDay ?? 0.5,
  };
  const fed = intake.filter((d) => d.solidsEnergyPct !== null && d.feeds > 0);
  const begun = fed.findIndex((d) => d.solidsG.low > 0);
  const since = begun === -1 ? [] : fed.slice(begun);
  const x = since.map((d) => (d.from - since[0]!.from) / dayMs);
  const y = since.map((d) => middle(d));
  const curve = fitSCurve(x, y);
  const recent = since.slice(-o.paceDays);
  const pace = paceOf(x.slice(-o.paceDays), y.slice(-o.paceDays));
  const last3 = y.slice(-3);
  const share = last3.length === 0 ? null : last3.reduce((a, b) => a + b, 0) / last3.length;
  const wide = fed.slice(-3).some((d) => d.solidsEnergyPct!.value === null);
  const weaned =
    since.length >= 3 && since.slice(-3).every((d) => d.solidsEnergyPct!.low >= o.weanedPct);
  const stalled =
    !weaned &&
    share !== null &&
    share < o.weanedPct &&
    pace !== null &&
    pace.upper < o.stallPctPerDay;
  // Solids were offered, but whether any was eaten is not known.
  const maybe = begun === -1 && fed.some((d) => d.solidsG.high !== 0);
  const state: WeaningProgress["state"] =
    fed.length === 0 || maybe
      ? "not known"
      : begun === -1
        ? "not begun"
        : weaned
          ? "weaned"
          : stalled
            ? "stalled"
            : "under way";
  const notices: Notice[] = [];
  const since0 = stalled ? stallBegin(since, y, share!) : null;
  if (stalled) {
    notices.push(
      notice("weaning-stalled", "caution", { share: share!, since: since0, pace: pace!.slope }),
    );
  }
  if (wide) notices.push(notice("weaning-share-uncertain", "caution", {}));
  const unknownPace = notice("weaning-pace-unknown", "caution", { n: recent.length });
  return {
    kind: "weaning-progress",
    schema: 1,
    value: {
      days: intake.map((d) => {
        const s = d.solidsEnergyPct;
        const at = begun === -1 ? null : (d.from - since[0]!.from) / dayMs;
        return {
          feedingDay: d.feedingDay,
          sharePct: s?.value ?? null,
          low: s?.low ?? 0,
          high: s?.high ?? 100,
          curvePct: curve === null || at === null ? null : sCurve(at, curve.middleD, curve.rate),
        };
      }),
      state,
      begunOn: since[0]?.feedingDay ?? null,
      sharePct:
        share === null ? notDefined("%", unknownPace) : measured(share, "%", { n: last3.length }),
      pacePctPerDay:
        pace === null
          ? notDefined("%/d", unknownPace)
          : measured(pace.slope, "%/d", {
              se: pace.se,
              n: recent.length,
              interval: { lower: pace.lower, upper: pace.upper, level: 0.95 },
            }),
      daysToWeaned: daysLeft(state, share, pace, o.weanedPct, unknownPace),
      stalledSince: since0,
      curve:
        curve === null
          ? null
          : {
              middleD: curve.middleD,
              steepestPctPerDay: 25 * curve.rate,
              daysToWeaned: curveDaysLeft(curve, x.at(-1)!, o.weanedPct),
            },
    },
    method: {
      name: "Share of the energy eaten from solids; least-squares pace; logistic curve",
      options: o,
      citations: [],
    },
    basis: {
      used: fed.length,
      leftOut:
        fed.length === intake.length
          ? []
          : [{ reason: "nothing recorded as eaten", count: intake.length - fed.length }],
      of: "feeding days",
    },
    diagnostics: { curveStop: curve?.stop ?? null },
    notices,
  };
}

function middle(d: IntakeDay): number {
  const s = d.solidsEnergyPct!;
  return s.value ?? (s.low + (s.high ?? 100)) / 2;
}

interface Pace {
  readonly slope: number;
  readonly se: number;
  readonly lower: number;
  readonly upper: number;
}

function paceOf(x: readonly number[], y: readonly number[]): Pace | null {
  const n = x.length;
  if (n < 4) return null;
  const mx = x.reduce((a, b) => a + b, 0) / n;
  const my = y.reduce((a, b) => a + b, 0) / n;
  const sxx = x.reduce((s, v) => s + (v - mx) ** 2, 0);
  const slope = x.reduce((s, v, i) => s + (v - mx) * (y[i]! - my), 0) / sxx;
  const rss = x.reduce((s, v, i) => s + (y[i]! - my - slope * (v - mx)) ** 2, 0);
  const se = Math.sqrt(rss / (n - 2) / sxx);
  const half = studentTQuantile(0.975, n - 2) * se;
  return { slope, se, lower: slope - half, upper: slope + half };
}

function daysLeft(
  state: WeaningProgress["state"],
  share: number | null,
  pace: Pace | null,
  weanedPct: number,
  unknown: Notice,
): Measured {
  if (state === "weaned") return measured(0, "d");
  if (share === null || pace === null) return notDefined("d", unknown);
  if (!(pace.slope > 0))
    return notDefined("d", notice("weaning-no-progress", "caution", { pace: pace.slope }));
  const left = Math.max(0, weanedPct - share);
  return measured(left / pace.slope, "d", {
    interval: {
      lower: left / pace.upper,
      upper: pace.lower > 0 ? left / pace.lower : null,
      level: 0.95,
    },
  });
}

/** The first day of the stretch that stays within five points of the present share. */
function stallBegin(days: readonly IntakeDay[], y: readonly number[], share: number): CivilDate {
  let i = days.length - 1;
  while (i > 0 && Math.abs(y[i - 1]! - share) <= 5) i--;
  return days[i]!.feedingDay;
}
