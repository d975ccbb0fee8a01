import { count, formatNumber } from "../units/format-number.js";
import { daysAxis, defaultSize, emptyLayer, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { endLabels, roomForLabels, spanOf } from "./end-labels.js";
import type { CurvePoint } from "./growth-curve-chart.js";
import { measuredText } from "./measured-text.js";
import { bandLook, palette, seriesScales } from "./palette.js";

export interface GroupCurve {
  readonly name: string;
  readonly n: number;
  readonly points: readonly CurvePoint[];
}

export interface CurveDifferencePoint {
  readonly day: number;
  readonly percent: number;
  readonly lower: number;
  readonly upper: number;
}

export interface GroupCurveDifference {
  /** "2023 against 2021": the heading of its own small panel. */
  readonly name: string;
  readonly points: readonly CurveDifferencePoint[];
}

export interface SeasonCurvesData {
  /** Whose curves: "sea otter". */
  readonly of: string;
  readonly curves: readonly GroupCurve[];
  readonly differences: readonly GroupCurveDifference[];
  /** "95 % interval at each age by itself". */
  readonly bandIs: string;
  /** How the curves were had: "mixed model of ln mass, cubic in age". */
  readonly method: string;
  /** What the curves are compared at: "at an arrival mass of 1830 g". */
  readonly at: string;
}

/**
 * Mean curves of several seasons in one panel, and below it how much heavier
 * each is than the season it is compared with, every difference in a panel of
 * its own: bands of several seasons over one another cannot be read.
 */
export function seasonCurvesChart(data: SeasonCurvesData, options: ChartOptions = {}): Chart {
  const labels = data.curves.map((c) => `${c.name} (n = ${c.n})`);
  const curves: ChartRow[] = data.curves.flatMap((c, i) =>
    c.points.map((p) => ({
      day: p.day,
      mass: p.massG,
      lower: p.lower === null ? null : p.lower,
      upper: p.upper === null ? null : p.upper,
      season: labels[i]!,
    })),
  );
  const differences: ChartRow[] = data.differences.flatMap((d) =>
    d.points.map((p) => ({ ...p, pair: d.name })),
  );
  const width = options.width ?? defaultSize.width;
  const total = data.curves.reduce((s, c) => s + c.n, 0);
  return makeChart(
    {
      padding: roomForLabels(labels.map((label) => ({ label, x: 0, y: 0, colour: "" }))),
      vconcat: [
        curvesPanel(curves, labels, `Mass (g)`, width, options.height ?? 280),
        ...(differences.length === 0
          ? []
          : [differencePanels(differences, data.differences.length, width)]),
      ],
    },
    {
      title: options.title ?? `Mean growth curves by season, ${data.of}`,
      alt: `Mean mass of a typical ${data.of} in g against age for ${count(data.curves.length, "season")}: ${data.curves.map((c) => endWords(c)).join("; ")}.${data.differences.map((d) => differenceWords(d)).join("")}`,
      caption: `n = ${count(total, "animal")}. ${data.method}, ${data.at}. Bands: ${data.bandIs}.${differences.length === 0 ? "" : " Below: how much heavier, in percent; where the band crosses zero no difference is shown at that age."}`,
    },
    [...curves, ...differences],
  );
}

function curvesPanel(
  rows: readonly ChartRow[],
  labels: readonly string[],
  title: string,
  width: number,
  height: number,
): VegaLiteSpec {
  if (rows.length === 0) return { width, height: 60, ...emptyLayer("no season's curve to show") };
  const { colour, dash } = seriesScales(labels);
  const season = { field: "season", type: "nominal", title: "Season" };
  const x = daysAxis("day");
  const y = numberAxis("mass", title);
  const ends = labels.flatMap((label, i) => {
    const last = rows.filter((r) => r["season"] === label).at(-1);
    return last === undefined
      ? []
      : [{ label, x: Number(last["day"]), y: Number(last["mass"]), colour: colour.range[i]! }];
  });
  const range = spanOf(
    rows.flatMap((r) => [Number(r["lower"] ?? r["mass"]), Number(r["upper"] ?? r["mass"])]),
  );
  return {
    width,
    height,
    layer: [
      // One layer for each band: a shared one would put pale patches into the legend.
      ...labels.map((label, i) => ({
        data: { values: rows.filter((r) => r["season"] === label && r["lower"] !== null) },
        mark: { type: "area", opacity: 0.1, color: colour.range[i] },
        encoding: { x, y: numberAxis("lower", title), y2: { field: "upper" } },
      })),
      {
        data: { values: rows },
        mark: { type: "line", strokeWidth: 2 },
        encoding: {
          x,
          y: numberAxis("mass", title),
          color: { ...season, scale: colour, legend: null },
          strokeDash: { ...season, scale: dash, legend: null },
        },
      },
      ...endLabels(ends, { range, height, x, y }),
    ],
  };
}

function differencePanels(rows: readonly ChartRow[], n: number, width: number): VegaLiteSpec {
  const columns = Math.min(n, 3);
  const x = { ...daysAxis("day"), axis: { grid: false, tickMinStep: 1, tickCount: 4 } };
  const y = (field: string) => numberAxis(field, "Heavier by (%)", { zero: true });
  return {
    data: { values: rows },
    facet: {
      field: "pair",
      type: "nominal",
      title: null,
      sort: null,
      header: { labelFontSize: 12 },
    },
    columns,
    spacing: 18,
    spec: {
      width: Math.floor((width - 18 * (columns - 1)) / columns),
      height: 140,
      layer: [
        {
          mark: { type: "area", ...bandLook },
          encoding: { x, y: y("lower"), y2: { field: "upper" } },
        },
        {
          mark: { type: "rule", color: palette.ink, strokeDash: [4, 3] },
          encoding: { y: { datum: 0 } },
        },
        {
          mark: { type: "line", strokeWidth: 2, color: palette.measured },
          encoding: { x, y: y("percent") },
        },
      ],
    },
  };
}

function endWords(curve: GroupCurve): string {
  const last = curve.points.at(-1);
  return last === undefined
    ? `${curve.name} none`
    : `${curve.name} ${formatNumber(last.massG, 4)} g at ${Math.round(last.day)} days`;
}

function differenceWords(d: GroupCurveDifference): string {
  const last = d.points.at(-1);
  if (last === undefined) return "";
  return ` ${d.name}: ${measuredText(last.percent, last.lower, last.upper, "%")} at ${Math.round(last.day)} days.`;
}
