import { count, formatNumber } from "../units/format-number.js";
import { daysAxis, defaultSize, emptyLayer, numberAxis } from "./axes.js";
import { type Chart, type ChartOptions, type ChartRow, makeChart } from "./chart.js";
import { sizeOf } from "./growth-curve-chart.js";
import { palette } from "./palette.js";

export interface ResidualPoint {
  readonly day: number;
  readonly residual: number;
}

export interface ResidualData {
  readonly name: string;
  readonly points: readonly ResidualPoint[];
  /** "g", or "standard deviations" for standardised residuals. */
  readonly unit: string;
  readonly dayTitle?: string;
}

/**
 * What a curve leaves over, against age. Points without a pattern around zero
 * speak for the curve; a bend or a widening speaks against it.
 */
export function residualChart(data: ResidualData, options: ChartOptions = {}): Chart {
  const dayTitle = data.dayTitle ?? "Age (days)";
  const title = `Weighing minus curve (${data.unit})`;
  const rows: ChartRow[] = data.points.map((p) => ({ day: p.day, residual: p.residual }));
  const x = daysAxis("day", dayTitle);
  const largest = Math.max(0, ...data.points.map((p) => Math.abs(p.residual)));
  return makeChart(
    {
      ...defaultSize,
      height: 220,
      ...sizeOf(options),
      layer: [
        {
          data: { values: [{ zero: 0 }] },
          mark: { type: "rule", color: palette.grey },
          encoding: { y: numberAxis("zero", title, { zero: true }) },
        },
        rows.length === 0
          ? emptyLayer("no residuals")
          : {
              data: { values: rows },
              mark: { type: "point", size: 34, filled: true, color: palette.measured, opacity: 1 },
              encoding: { x, y: numberAxis("residual", title, { zero: true }) },
            },
      ],
    },
    {
      title: options.title ?? `${data.name}: what the curve leaves over`,
      alt: `Residuals of ${data.name} against ${dayTitle.toLowerCase()}: ${count(rows.length, "point")}, the largest ${formatNumber(largest, 3)} ${data.unit} from zero.`,
      caption: `n = ${count(rows.length, "weighing")}. A bend or a widening means that the curve does not describe these data.`,
    },
    rows,
  );
}
