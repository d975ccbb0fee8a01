import { count } from "../units/format-number.js";
import { defaultSize, emptyLayer, numberAxis, timeAxis, yearsOf } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { sizeOf } from "./growth-curve-chart.js";
import { dayNumber } from "./local-time.js";
import { palette } from "./palette.js";

export interface WeaningData {
  readonly name: string;
  readonly days: readonly {
    /** Feeding day, YYYY-MM-DD. */
    readonly day: string;
    /** Share of energy from solids, %; null where only its limits are known. */
    readonly share: number | null;
    readonly low: number;
    readonly high: number;
    readonly curve: number | null;
  }[];
  /** Share that counts as weaned, %. */
  readonly weanedPct: number;
  /** "under way, 12 days left at the present pace". */
  readonly answer: string;
}

/** The share of energy from solids day by day, with the S-shaped curve and the share that counts as weaned. */
export function weaningChart(data: WeaningData, options: ChartOptions = {}): Chart {
  const rows: ChartRow[] = data.days.map((d) => ({
    day: dayNumber(d.day),
    date: d.day,
    share: d.share,
    low: d.low,
    high: d.high,
    curve: d.curve,
  }));
  const x = timeAxis("day", `Feeding day, ${yearsOf(data.days.map((d) => dayNumber(d.day)))}`);
  const y = (field: string) =>
    numberAxis(field, "Energy eaten, from solids (%)", { zero: true, domain: [0, 100] });
  const known = rows.filter((row) => row["share"] !== null);
  const open = rows.filter((row) => row["share"] === null && row["low"] !== row["high"]);
  const layer: VegaLiteSpec[] = [
    {
      data: { values: [{ weaned: data.weanedPct }] },
      mark: { type: "rule", color: palette.ink, strokeDash: [5, 4] },
      encoding: { y: y("weaned") },
    },
    {
      data: { values: open },
      mark: { type: "rule", strokeWidth: 3, color: palette.grey },
      encoding: { x, y: y("low"), y2: { field: "high" } },
    },
    {
      data: { values: rows.filter((row) => row["curve"] !== null) },
      mark: { type: "line", strokeWidth: 2, color: palette.usualLine },
      encoding: { x, y: y("curve") },
    },
    {
      data: { values: known },
      mark: { type: "point", filled: true, size: 26, color: palette.ink, opacity: 1 },
      encoding: { x, y: y("share") },
    },
  ];
  return makeChart(
    {
      ...defaultSize,
      height: 240,
      ...sizeOf(options),
      layer: rows.length === 0 ? [emptyLayer("no feeding day on record")] : layer,
    },
    {
      title: options.title ?? `${data.name}: from formula to solids`,
      alt: `Share of the energy eaten from solids of ${data.name} on ${count(known.length, "feeding day")}: ${data.answer}.`,
      caption: `n = ${count(known.length, "feeding day")} with a known share; ${data.answer}. Dashed: ${data.weanedPct} %, which counts as weaned.${open.length === 0 ? "" : ` Thick lines: the share lies between the ends (${count(open.length, "day")}).`}`,
    },
    rows,
  );
}
