import { count } from "../units/format-number.js";
import { daysAxis, defaultSize, emptyLayer } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { endLabels } from "./end-labels.js";
import { sizeOf } from "./growth-curve-chart.js";
import { bandLook, palette } from "./palette.js";

export interface SharePoint {
  readonly day: number;
  /** Share reached for certain, and at most, by that day: the looks leave the rest open. */
  readonly least: number;
  readonly most: number;
  /** Interval of the share; null where none could be had. */
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface ShareData {
  /** "first unaided dive". */
  readonly milestone: string;
  /** Whose: "sea otter". */
  readonly of: string;
  readonly n: number;
  readonly seen: number;
  readonly points: readonly SharePoint[];
  /** Steps of the shares that died or left before; empty where nobody did. */
  readonly gone: readonly { readonly day: number; readonly died: number; readonly left: number }[];
  readonly dayTitle: string;
  /** "95 % interval, bootstrap of animals". */
  readonly intervalIs: string;
  readonly method: string;
}

/**
 * The share of animals that had reached a milestone by each day: the dark step
 * band is what the looks leave open, the pale one the interval. What died or
 * left before it stands below as lines of its own.
 */
export function shareChart(data: ShareData, options: ChartOptions = {}): Chart {
  const percent = (x: number) => 100 * x;
  const rows: ChartRow[] = data.points.map((p) => ({
    day: p.day,
    least: percent(p.least),
    most: percent(p.most),
    lower: p.lower === null ? null : percent(p.lower),
    upper: p.upper === null ? null : percent(p.upper),
  }));
  const shown = daysShown(data.points);
  const gone: ChartRow[] = [
    { day: Math.min(shown[0], data.gone[0]?.day ?? shown[0]), died: 0, left: 0 },
    ...data.gone,
  ].flatMap((g) => [
    { day: g.day, share: percent(g.died), gone: "died before" },
    { day: g.day, share: percent(g.left), gone: "left before" },
  ]);
  const x = { ...daysAxis("day", data.dayTitle), scale: { domain: shown, nice: true } };
  const y = (field: string) => ({
    field,
    type: "quantitative",
    title: "Share (%)",
    scale: { domain: [0, 100] },
  });
  const step = { interpolate: "step-after", clip: true };
  const layer: VegaLiteSpec[] = [
    {
      data: { values: rows.filter((r) => r["lower"] !== null && r["upper"] !== null) },
      mark: { type: "area", ...bandLook, ...step },
      encoding: { x, y: y("lower"), y2: { field: "upper" } },
    },
    {
      data: { values: rows },
      mark: { type: "area", color: palette.usualMiddle, opacity: 1, ...step },
      encoding: { x, y: y("least"), y2: { field: "most" } },
    },
    ...(["least", "most"] as const).map((field) => ({
      data: { values: rows },
      mark: { type: "line", strokeWidth: 1.6, color: palette.measured, ...step },
      encoding: { x, y: y(field) },
    })),
  ];
  const last = data.gone.at(-1);
  const end = { x: shown[1], height: options.height ?? 260, range: 100 };
  if (last !== undefined)
    layer.push(
      ...endLabels(
        [
          { label: "died before", x: end.x, y: percent(last.died), colour: palette.alarm },
          { label: "left before", x: end.x, y: percent(last.left), colour: palette.ink },
        ],
        { ...end, x, y: y("share") },
      ),
      {
        data: { values: gone },
        mark: { type: "line", strokeWidth: 2, ...step },
        encoding: {
          x,
          y: y("share"),
          color: goneScale([palette.alarm, palette.ink]),
          strokeDash: goneScale([
            [2, 3],
            [7, 3],
          ]),
        },
      },
    );
  return makeChart(
    {
      ...defaultSize,
      height: rows.length === 0 ? 80 : 260,
      ...sizeOf(options),
      layer: rows.length === 0 ? [emptyLayer("nobody was seen to reach it")] : layer,
    },
    {
      title: options.title ?? `Share that had reached "${data.milestone}", ${data.of}`,
      alt: `Share of ${data.of}s that had reached "${data.milestone}" against ${data.dayTitle.toLowerCase()}: ${halfWords(data.points)}${goneWords(data.gone)}.`,
      caption: `n = ${count(data.n, "animal")}, ${data.seen} seen. ${data.method}. Dark: what the looks leave open; pale: ${data.intervalIs}.${data.gone.length === 0 ? "" : " Lines: shares that died or left before it, of all."}`,
    },
    data.gone.length === 0 ? rows : [...rows, ...gone],
  );
}

/** A long stretch before the first move would press the curve against the right edge. */
function daysShown(points: readonly SharePoint[]): [number, number] {
  const first = points[0]?.day ?? 0;
  const last = points.at(-1)?.day ?? first + 1;
  const moves = points.find((p) => p.most > 0.005)?.day ?? first;
  return [Math.max(first, moves - 0.3 * (last - moves)), last];
}

function goneScale(range: readonly unknown[]): VegaLiteSpec {
  return {
    field: "gone",
    type: "nominal",
    title: null,
    scale: { domain: ["died before", "left before"], range },
    legend: null,
  };
}

function halfWords(points: readonly SharePoint[]): string {
  const at = (read: (p: SharePoint) => number) => points.find((p) => read(p) >= 0.5 - 1e-9)?.day;
  const from = at((p) => p.most);
  const to = at((p) => p.least);
  if (from === undefined) return "half by no day on record";
  const day = (d: number) => String(Math.round(d));
  return to === undefined || day(from) === day(to)
    ? `half at about day ${day(from)}`
    : `half between day ${day(from)} and day ${day(to)}`;
}

function goneWords(gone: ShareData["gone"]): string {
  const last = gone.at(-1);
  if (last === undefined) return "";
  const words = (x: number) => `${Math.round(100 * x)} %`;
  return `; ${words(last.died)} died and ${words(last.left)} left before it`;
}
