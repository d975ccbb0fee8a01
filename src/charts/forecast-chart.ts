import { count, formatNumber } from "../units/format-number.js";
import { daysAxis, defaultSize, domainOf, emptyLayer, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { sizeOf } from "./growth-curve-chart.js";
import { bandLook, palette } from "./palette.js";

export interface ForecastData {
  readonly name: string;
  readonly weighings: readonly { readonly day: number; readonly massG: number }[];
  /** Expected masses from now on, with their limits. */
  readonly path: readonly {
    readonly day: number;
    readonly massG: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  readonly targetG: number;
  /** What was forecast earlier for a day that has come. */
  readonly earlier: {
    readonly day: number;
    readonly massG: number;
    readonly lower: number | null;
    readonly upper: number | null;
    readonly madeOn: string;
  } | null;
  /** "reached between 3 Aug and 20 Aug 2025, likely on 10 Aug 2025", or why there is no forecast. */
  readonly answer: string;
}

/**
 * Weighings so far, the mass expected from now on and the target: the target is
 * reached where the band crosses its line. What was forecast earlier for today
 * stands as a square with its interval.
 */
export function forecastChart(data: ForecastData, options: ChartOptions = {}): Chart {
  const weighed: ChartRow[] = data.weighings.map((w) => ({ day: w.day, mass: w.massG }));
  const path: ChartRow[] = data.path.map((p) => ({
    day: p.day,
    expected: p.massG,
    lower: p.lower,
    upper: p.upper,
  }));
  const x = daysAxis("day");
  const y = (field: string) => numberAxis(field, "Mass (g)", domainOf(options, []));
  const { earlier } = data;
  const before: ChartRow[] =
    earlier === null
      ? []
      : [
          {
            day: earlier.day,
            forecast: earlier.massG,
            lower: earlier.lower === null ? null : earlier.lower,
            upper: earlier.upper === null ? null : earlier.upper,
          },
        ];
  const layer: VegaLiteSpec[] = [
    {
      data: { values: [{ target: data.targetG }] },
      mark: { type: "rule", color: palette.ink, strokeDash: [5, 4] },
      encoding: { y: y("target") },
    },
    {
      data: { values: path },
      mark: { type: "area", ...bandLook },
      encoding: { x, y: y("lower"), y2: { field: "upper" } },
    },
    {
      data: { values: path },
      mark: { type: "line", color: palette.measured, strokeWidth: 2 },
      encoding: { x, y: y("expected") },
    },
    {
      data: { values: weighed },
      mark: { type: "point", filled: true, size: 22, color: palette.ink, opacity: 1 },
      encoding: { x, y: y("mass") },
    },
    {
      data: { values: before.filter((row) => row["lower"] !== null && row["upper"] !== null) },
      mark: { type: "rule", color: palette.plan, strokeWidth: 2 },
      encoding: { x, y: y("lower"), y2: { field: "upper" } },
    },
    {
      data: { values: before },
      mark: { type: "point", shape: "square", size: 70, color: palette.plan, strokeWidth: 2 },
      encoding: { x, y: y("forecast") },
    },
  ];
  const target = `${formatNumber(data.targetG, 4)} g`;
  return makeChart(
    {
      ...defaultSize,
      ...sizeOf(options),
      layer: weighed.length === 0 ? [emptyLayer("no usable weighing")] : layer,
    },
    {
      title: options.title ?? `${data.name}: when will it weigh ${target}?`,
      alt: `Masses of ${data.name} so far and the mass expected from now on against age; target ${target}: ${data.answer}.`,
      caption: `n = ${count(weighed.length, "weighed day")}. Target ${target} (dashed): ${data.answer}.${path.length === 0 ? "" : " Band: 95 % interval."}${earlier === null ? "" : ` Square: forecast on ${earlier.madeOn} for the day this one was made, with its interval.`}`,
    },
    [...weighed, ...path, ...before],
  );
}
