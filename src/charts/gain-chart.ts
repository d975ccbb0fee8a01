import { formatAmount } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { daysAxis, defaultSize, emptyLayer, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { sizeOf } from "./growth-curve-chart.js";
import { measuredText } from "./measured-text.js";
import { bandLook, palette } from "./palette.js";

export interface GainPoint {
  readonly day: number;
  readonly gain: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface GainData {
  readonly name: string;
  readonly points: readonly GainPoint[];
  /** "g/d" or "%/d". */
  readonly unit: string;
  /** How the gain was computed: "regression over 7 days, 95 % interval". */
  readonly method: string;
  readonly dayTitle?: string;
}

/** Gain against age with its interval; zero is drawn, because below it lies loss. */
export function gainChart(data: GainData, options: ChartOptions = {}): Chart {
  const dayTitle = data.dayTitle ?? "Age (days)";
  const title = `Gain (${data.unit})`;
  const rows: ChartRow[] = data.points.flatMap((p) =>
    p.gain === null ? [] : [{ day: p.day, gain: p.gain, lower: p.lower, upper: p.upper }],
  );
  const band = rows.filter((row) => row["lower"] !== null && row["upper"] !== null);
  const x = daysAxis("day", dayTitle);
  const layer: VegaLiteSpec[] = [];
  if (band.length > 0) {
    layer.push({
      data: { values: band },
      mark: { type: "area", ...bandLook },
      encoding: { x, y: numberAxis("lower", title), y2: { field: "upper" } },
    });
  }
  if (rows.length > 0) {
    layer.push({
      data: { values: [{ zero: 0 }] },
      mark: { type: "rule", color: palette.ink, strokeDash: [4, 3] },
      encoding: { y: numberAxis("zero", title, { zero: true }) },
    });
  }
  layer.push(
    rows.length === 0
      ? emptyLayer("no gain could be computed")
      : {
          data: { values: rows },
          // Slopes over overlapping days: a line, since no point of it was measured.
          mark: { type: "line", strokeWidth: 2, color: palette.measured },
          encoding: { x, y: numberAxis("gain", title, { zero: true }) },
        },
  );
  const last = rows.at(-1);
  return makeChart(
    { ...defaultSize, height: rows.length === 0 ? 80 : 240, ...sizeOf(options), layer },
    {
      title: options.title ?? `${data.name}: gain`,
      alt:
        `Gain of ${data.name} in ${data.unit} against ${dayTitle.toLowerCase()}, ${count(rows.length, "value")}` +
        `${last === undefined ? "" : `; the last is ${formatAmount(Number(last["gain"]), data.unit)}`}.`,
      caption: `n = ${count(rows.length, "value")}. ${sentence(data.method)}${rows.length === 0 ? "" : " Dashed: no gain."}`,
    },
    rows,
    data.points.flatMap((p) => {
      if (p.gain === null) return [];
      const gain = measuredText(p.gain, p.lower, p.upper, data.unit);
      return [{ x: p.day, words: `Day ${Math.round(p.day)}: gain ${gain}` }];
    }),
  );
}

const sentence = (words: string) => `${words.slice(0, 1).toUpperCase()}${words.slice(1)}.`;
