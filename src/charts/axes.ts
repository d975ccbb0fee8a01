import type { VegaLiteSpec } from "./chart.js";
import { palette } from "./palette.js";

/** Width and height of a plotting area when nothing else is asked for, in pixels. */
export const defaultSize = { width: 640, height: 320 } as const;

/** Days of age or in care, along the bottom; `values` keep a single day from standing without a scale. */
export function daysAxis(
  field: string,
  title = "Age (days)",
  values: readonly number[] = [],
): VegaLiteSpec {
  return {
    field,
    type: "quantitative",
    title,
    scale: { zero: false, nice: true, padding: 4, ...aroundOneValue(values) },
    axis: { grid: false, tickMinStep: 1, tickCount: 6, labelExpr: plainNumber },
  };
}

/**
 * A domain around a value that stands alone, 5 per cent and at least 1 to
 * either side: an axis with one tick would say nothing of the size.
 */
export function aroundOneValue(values: readonly number[]): { readonly domain?: readonly number[] } {
  const first = values[0];
  if (first === undefined || values.some((value) => value !== first)) return {};
  const room = Math.max(1, Math.abs(first) / 20);
  return { domain: [first - room, first + room] };
}

/** The ends that were asked for, else room around a value that stands alone. */
export function domainOf(
  options: { readonly domain?: readonly [number, number] },
  values: readonly number[],
): { readonly domain?: readonly number[] } {
  return options.domain === undefined ? aroundOneValue(values) : { domain: options.domain };
}

/** A number up the side, from zero only where asked. */
export function numberAxis(
  field: string,
  title: string,
  options: { readonly zero?: boolean; readonly domain?: readonly number[] } = {},
): VegaLiteSpec {
  return {
    field,
    type: "quantitative",
    title,
    scale: {
      zero: options.zero ?? false,
      nice: true,
      ...(options.domain === undefined ? {} : { domain: options.domain }),
    },
    axis: { tickCount: 5, labelExpr: plainNumber },
  };
}

/** Numbers of an axis as the formatter writes them: thin spaces from 10 000 on. */
export const plainNumber =
  "abs(datum.value) < 10000 ? format(datum.value, '~f') : replace(format(datum.value, ',~f'), regexp(',', 'g'), '\u202f')";

/**
 * Time along the bottom. The field holds local wall-clock milliseconds (see
 * `localNumber`), read as if they were universal time, so that a picture does
 * not depend on the machine's own zone.
 */
export function timeAxis(field: string, title: string): VegaLiteSpec {
  return {
    field,
    type: "temporal",
    title,
    scale: { type: "utc", padding: 8 },
    axis: { grid: true, labelOverlap: true, tickCount: 6, labelExpr: dayLabel, labelFlush: false },
  };
}

/** A tick between two midnights would name its day a second time. */
const dayLabel = "utchours(datum.value) === 0 ? utcFormat(datum.value, '%-d %b') : ''";

/** "2025", or "2024 to 2025": the axis itself shows day and month only. */
export function yearsOf(localTimes: readonly number[]): string {
  const years = localTimes.map((at) => new Date(at).getUTCFullYear());
  if (years.length === 0) return "no date";
  const first = years.reduce((a, b) => Math.min(a, b));
  const last = years.reduce((a, b) => Math.max(a, b));
  return first === last ? String(first) : `${first} to ${last}`;
}

/** What stands in the place of a picture that has nothing to show. */
export function emptyLayer(words: string): VegaLiteSpec {
  return {
    data: { values: [{}] },
    mark: { type: "text", fontSize: 13, color: palette.soft },
    encoding: { text: { value: words } },
  };
}
