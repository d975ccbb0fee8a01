import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { DailyMass } from "../series/animal-series.js";
import { firstAfter } from "../series/rows-between.js";
import { dayMs } from "../units/day-ms.js";
import type { SerialEvidence } from "./serial-evidence.js";
import { type ErrorsBetweenDays, serialSlope } from "./serial-slope.js";

export interface GainWindowOptions {
  /** Last instant of the window, included. Default: the last row's. */
  readonly endAt?: number;
  /** Length of the window in days of 24 h. Default 7. */
  readonly days?: number;
  /** Fewest weighed days for a slope. Default 4. */
  readonly minimumWeighings?: number;
  /** Least span from first to last weighing, as a share of the window. Default 0.5. */
  readonly minimumSpan?: number;
  /**
   * How errors of neighbouring weighings are taken. "independent" (default): the
   * textbook standard error. "serial": they may hang together from day to day;
   * standard error and interval allow for it.
   */
  readonly errors?: ErrorsBetweenDays;
  /** What is known of how they hang together, from `serialEvidence`. */
  readonly evidence?: SerialEvidence;
  /** Coverage of the interval. Default 0.95; with independent errors an interval is given only where this is set. */
  readonly level?: number;
}

export interface GainOverWindow {
  /** First and last weighing used; null when none lies in the window. */
  readonly from: number | null;
  readonly to: number | null;
  readonly n: number;
  /** Slope of mass on time, g/d, with its standard error and, where asked for, interval. */
  readonly gain: Measured;
  /** Slope of ln mass on time x 100, %/d, likewise. */
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
 * The default takes errors of neighbouring days as independent. Where they hang
 * together (gut fill) its standard error is too small: at a correlation of 0.5
 * the 95 % interval of seven weighings holds 82 %. `errors: "serial"` holds 95 %
 * there, and 97 % with independent errors, where four weeks of the animal are
 * known; `feedConversion` says what it assumes, and `dailyGains` uses it.
 *
 * @example gainOverWindow(otter.daily, { days: 7 }).gain.value // 65.23
 */
export function gainOverWindow(
  daily: readonly DailyMass[],
  options: GainWindowOptions = {},
): GainOverWindow {
  const days = options.days ?? 7;
  const needed = Math.max(2, options.minimumWeighings ?? 4);
  const minimumSpan = options.minimumSpan ?? 0.5;
  const endAt = options.endAt ?? daily.at(-1)?.at ?? Number.NEGATIVE_INFINITY;
  const rows = daily
    .slice(firstAfter(daily, endAt - days * dayMs), firstAfter(daily, endAt))
    .filter((d) => d.massG > 0);
  const first = rows[0];
  const last = rows.at(-1);
  const span = first && last ? (last.at - first.at) / dayMs : 0;
  if (!first || !last || rows.length < needed) {
    return empty(rows, notice("gain-few-weighings", "caution", { n: rows.length, needed, days }));
  }
  if (span <= 0 || (minimumSpan > 0 && span < minimumSpan * days)) {
    return empty(rows, notice("gain-short-span", "caution", { span, days, share: minimumSpan }));
  }
  const t = rows.map((r) => (r.at - first.at) / dayMs);
  const masses = rows.map((r) => r.massG);
  const plain = line(t, masses);
  const stated = rows.map((r) => r.errorG);
  const logs = masses.map(Math.log);
  const relativeErrors = rows.map((r) => r.errorG / r.massG);
  return {
    from: first.at,
    to: last.at,
    n: rows.length,
    gain: slope(t, masses, stated, 1, "g/d", options),
    relative: slope(t, logs, relativeErrors, 100, "%/d", options),
    fittedStartG: plain.at(0),
    fittedEndG: plain.at(t[t.length - 1]!),
  };
}

/** The slope times `scale`, with its error. */
function slope(
  t: readonly number[],
  y: readonly number[],
  stated: readonly number[],
  scale: number,
  unit: string,
  options: GainWindowOptions,
): Measured {
  const n = t.length;
  const level = options.level ?? 0.95;
  const errors = options.errors ?? "independent";
  if (n > 2 && (errors === "serial" || options.level !== undefined)) {
    const { evidence } = options;
    const fit = serialSlope(t, y, {
      errors,
      level,
      ...(evidence === undefined ? {} : { evidence }),
    });
    return measured(scale * fit.slope, unit, {
      se: scale * fit.se,
      n,
      interval: {
        lower: scale * fit.interval.lower!,
        upper: scale * fit.interval.upper!,
        level,
      },
    });
  }
  const { slope, meanT, meanY, sxx } = line(t, y);
  const rss = t.reduce((sum, ti, i) => sum + (y[i]! - meanY - slope * (ti - meanT)) ** 2, 0);
  const se =
    n > 2
      ? Math.sqrt(rss / (n - 2) / sxx)
      : Math.sqrt(t.reduce((sum, ti, i) => sum + ((ti - meanT) * stated[i]!) ** 2, 0)) / sxx;
  return measured(scale * slope, unit, { se: scale * se, n });
}

function line(t: readonly number[], y: readonly number[]) {
  const n = t.length;
  const meanT = t.reduce((a, b) => a + b, 0) / n;
  const meanY = y.reduce((a, b) => a + b, 0) / n;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (t[i]! - meanT) ** 2;
    sxy += (t[i]! - meanT) * (y[i]! - meanY);
  }
  const slope = sxy / sxx;
  return { slope, meanT, meanY, sxx, at: (time: number) => meanY + slope * (time - meanT) };
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
