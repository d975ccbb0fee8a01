import { formatMass } from "../units/format-measured.js";
import { count, formatNumber } from "../units/format-number.js";
import { daysAxis, defaultSize, domainOf, emptyLayer, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { endLabels, roomForLabels, spanOf } from "./end-labels.js";
import { measuredText } from "./measured-text.js";
import { bandLook, palette, seriesScales } from "./palette.js";

export interface MassPoint {
  /** Age or days in care. */
  readonly day: number;
  readonly massG: number;
  /** False where the weighing was left out of the fit; drawn hollow. */
  readonly used?: boolean;
}

export interface CurvePoint {
  readonly day: number;
  readonly massG: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface NamedCurve {
  readonly name: string;
  readonly points: readonly CurvePoint[];
}

export interface GrowthCurveData {
  /** The animal or group the chart is about. */
  readonly name: string;
  readonly points: readonly MassPoint[];
  /** Fitted curves; the band is drawn for the first alone, so that it stays readable. */
  readonly curves: readonly NamedCurve[];
  /** What the band is: "95 % confidence band of the curve". */
  readonly bandIs: string;
  /** "Age (days)" or "Days in care". */
  readonly dayTitle?: string;
}

/** Weighings of one animal and the curves fitted to them, with the band of the first. */
export function growthCurveChart(data: GrowthCurveData, options: ChartOptions = {}): Chart {
  const dayTitle = data.dayTitle ?? "Age (days)";
  const massTitle = `Mass (g)`;
  const points: ChartRow[] = data.points.map((p) => ({
    day: p.day,
    mass: p.massG,
    weighing: p.used === false ? "left out of the fit" : "used in the fit",
  }));
  const lines: ChartRow[] = data.curves.flatMap((curve) =>
    curve.points.map((p) => ({ day: p.day, mass: p.massG, curve: curve.name })),
  );
  const band: ChartRow[] = (data.curves[0]?.points ?? []).flatMap((p) =>
    p.lower === null || p.upper === null ? [] : [{ day: p.day, lower: p.lower, upper: p.upper }],
  );
  const scales = seriesScales(data.curves.map((c) => c.name));
  const numbersOf = (field: string) => [...points, ...lines].map((row) => Number(row[field]));
  const x = daysAxis("day", dayTitle, numbersOf("day"));
  const massAxis = (field: string) =>
    numberAxis(field, massTitle, domainOf(options, numbersOf("mass")));
  const layer: VegaLiteSpec[] = [];
  if (band.length > 0) {
    layer.push({
      data: { values: band },
      mark: { type: "area", ...bandLook, clip: true },
      encoding: { x, y: massAxis("lower"), y2: { field: "upper" } },
    });
  }
  if (lines.length > 0) {
    layer.push({
      data: { values: lines },
      mark: { type: "line", strokeWidth: 2, clip: true },
      encoding: {
        x,
        y: massAxis("mass"),
        color: {
          field: "curve",
          type: "nominal",
          title: "Curve",
          scale: scales.colour,
          legend: null,
        },
        strokeDash: {
          field: "curve",
          type: "nominal",
          title: "Curve",
          scale: scales.dash,
          legend: null,
        },
      },
    });
  }
  layer.push(
    points.length === 0
      ? emptyLayer("no weighings")
      : {
          data: { values: points },
          mark: { type: "point", size: 34, strokeWidth: 1.4, color: palette.ink, opacity: 1 },
          encoding: {
            x,
            y: massAxis("mass"),
            shape: weighingScale(["circle", crossShape]),
            fill: weighingScale([palette.ink, "transparent"]),
          },
        },
  );
  const ends = data.curves.flatMap((curve, i) => {
    const last = curve.points.at(-1);
    return last === undefined
      ? []
      : [{ label: curve.name, x: last.day, y: last.massG, colour: scales.colour.range[i]! }];
  });
  const height = options.height ?? defaultSize.height;
  layer.push(
    ...endLabels(ends, {
      range: spanOf(options.domain ?? numbersOf("mass")),
      height,
      x,
      y: massAxis("mass"),
    }),
  );
  const used = data.points.filter((p) => p.used !== false).length;
  const names = data.curves.map((c) => c.name).join(", ");
  return makeChart(
    {
      ...defaultSize,
      ...(points.length === 0 ? { height: 80 } : {}),
      ...sizeOf(options),
      padding: roomForLabels(ends),
      layer,
    },
    {
      title: options.title ?? `${data.name}: weighings and fitted curve`,
      alt:
        `Mass of ${data.name} in g against ${dayTitle.toLowerCase()}: ${count(points.length, "weighing")}` +
        `${rangeWords(data.points)}; ${names === "" ? "no curve" : `curve ${names}`}.`,
      caption:
        `n = ${count(used, "weighing")} used${points.length > used ? `, ${points.length - used} left out of the fit (crosses)` : ""}.` +
        `${names === "" ? " No curve could be fitted." : ` Curve: ${names}.`}` +
        `${band.length > 0 ? ` Band: ${data.bandIs}.` : ""}`,
    },
    [...points, ...lines],
    data.points.map((p) => ({ x: p.day, words: weighingWords(p, data.curves) })),
  );
}

/** "Day 43: 2878 g; gompertz 2890 g (2860 to 2920)": the curve at its place nearest in age. */
function weighingWords(p: MassPoint, curves: readonly NamedCurve[]): string {
  const fitted = curves.flatMap((curve) => {
    const near = curve.points.reduce<CurvePoint | null>(
      (best, each) =>
        best === null || Math.abs(each.day - p.day) < Math.abs(best.day - p.day) ? each : best,
      null,
    );
    if (near === null || Math.abs(near.day - p.day) > 1.5) return [];
    return [`${curve.name} ${measuredText(near.massG, near.lower, near.upper, "g")}`];
  });
  const out = p.used === false ? " (left out of the fit)" : "";
  return [`Day ${Math.round(p.day)}: ${formatMass(p.massG)}${out}`, ...fitted].join("; ");
}

const crossShape = "M-0.8,-0.8L0.8,0.8M-0.8,0.8L0.8,-0.8";

function weighingScale(range: readonly string[]): VegaLiteSpec {
  return {
    field: "weighing",
    type: "nominal",
    title: null,
    legend: null,
    scale: { domain: ["used in the fit", "left out of the fit"], range },
  };
}

/** Only the sizes that were given. */
export function sizeOf(options: ChartOptions): { width?: number; height?: number } {
  return {
    ...(options.width === undefined ? {} : { width: options.width }),
    ...(options.height === undefined ? {} : { height: options.height }),
  };
}

function rangeWords(points: readonly MassPoint[]): string {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return "";
  const words = (g: number) => `${formatNumber(g, 4)} g`;
  return ` from ${words(first.massG)} on day ${Math.round(first.day)} to ${words(last.massG)} on day ${Math.round(last.day)}`;
}
