import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { DailyMass } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";

export interface GainWindowOptions {
  /** Last instant of the window, included. Default: the last row's. */
  readonly endAt?: number;
  /** Length of the window in days of 24 h. Default 7. */
  readonly days?: number;
  /** Fewest weighed days for a slope. Default 4. */
  readonly minimumWeighings?: number;
  /** Least span from first to last weighing, as a share of the window. Default 0.5. */
  readonly minimumSpan?: number;
}

export interface GainOverWindow {
  /** First and last weighing used; null when none lies in the window. */
  readonly from: number | null;
  readonly to: number | null;
  readonly n: number;
  /** Slope of mass on time, g/d, with its standard error. */
  readonly gain: Measured;
  /** Slope of ln mass on time x 100, %/d, with its standard error. */
  readonly relative: Measured;
  /** Mass on the fitted line at `from` and `to`, g. */
  readonly fittedStartG: number | null;
  readonly fittedEndG: number | null;
}

/**
 * Average daily gain over a window: the least-squares slope of the daily mass
 * on real time, and its standard error (residual degrees of freedom n - 2). The
 * relative gain is the slope of ln mass, which equals 100 ln(W2/W1)/days when
 * two weighings lie in the window. With exactly two weighings the error comes
 * from the stated errors of the masses.
 *
 * Rows must be in order of time; the window is (endAt - days, endAt]. Too few
 * weighings or too short a span give `null` with the reason, never a guess.
 *
 * @example gainOverWindow(series.daily, { days: 7 }).gain // { value: 61.2, unit: "g/d", se: 3.1, n: 7 }
 */
export function gainOverWindow(
  daily: readonly DailyMass[],
  options: GainWindowOptions = {},
): GainOverWindow {
  const days = options.days ?? 7;
  const needed = Math.max(2, options.minimumWeighings ?? 4);
  const minimumSpan = options.minimumSpan ?? 0.5;
  const endAt = options.endAt ?? daily.at(-1)?.at ?? Number.NEGATIVE_INFINITY;
  const rows = daily.filter((d) => d.at <= endAt && d.at > endAt - days * dayMs && d.massG > 0);
  const first = rows[0];
  const last = rows.at(-1);
  const span = first && last ? (last.at - first.at) / dayMs : 0;
  if (!first || !last || rows.length < needed) {
    return empty(rows, notice("gain-few-weighings", "caution", { n: rows.length, needed, days }));
  }
  if (span < minimumSpan * days || span <= 0) {
    return empty(rows, notice("gain-short-span", "caution", { span, days, share: minimumSpan }));
  }
  const t = rows.map((r) => (r.at - first.at) / dayMs);
  const plain = slope(
    t,
    rows.map((r) => r.massG),
    rows.map((r) => r.errorG),
  );
  const log = slope(
    t,
    rows.map((r) => Math.log(r.massG)),
    rows.map((r) => r.errorG / r.massG),
  );
  return {
    from: first.at,
    to: last.at,
    n: rows.length,
    gain: measured(plain.slope, "g/d", { se: plain.se, n: rows.length }),
    relative: measured(100 * log.slope, "%/d", { se: 100 * log.se, n: rows.length }),
    fittedStartG: plain.at(0),
    fittedEndG: plain.at(t[t.length - 1]!),
  };
}

function slope(t: readonly number[], y: readonly number[], errors: readonly number[]) {
  const n = t.length;
  const meanT = t.reduce((a, b) => a + b, 0) / n;
  const meanY = y.reduce((a, b) => a + b, 0) / n;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (t[i]! - meanT) ** 2;
    sxy += (t[i]! - meanT) * (y[i]! - meanY);
  }
  const b = sxy / sxx;
  let rss = 0;
  for (let i = 0; i < n; i++) rss += (y[i]! - meanY - b * (t[i]! - meanT)) ** 2;
  const se =
    n > 2
      ? Math.sqrt(rss / (n - 2) / sxx)
      : Math.sqrt(t.reduce((s, ti, i) => s + ((ti - meanT) * errors[i]!) ** 2, 0)) / sxx;
  return { slope: b, se, at: (time: number) => meanY + b * (time - meanT) };
}

function empty(rows: readonly DailyMass[], why: Notice): GainOverWindow {
  return {
    from: rows[0]?.at ?? null,
    to: rows.at(-1)?.at ?? null,
    n: rows.length,
    gain: notDefined("g/d", why),
    relative: notDefined("%/d", why),
    fittedStartG: null,
    fittedEndG: null,
  };
}
