import { formatInterval } from "../units/format-measured.js";
import { defaultSize, numberAxis, plainNumber } from "./axes.js";
import { type Chart, type ChartOptions, type ChartRow, makeChart } from "./chart.js";
import { sizeOf } from "./growth-curve-chart.js";
import { palette } from "./palette.js";

export interface ProfileData {
  /** "A, the final mass (g)". */
  readonly parameter: string;
  /** Values of the parameter with their signed root t, in order. */
  readonly points: readonly { readonly value: number; readonly t: number }[];
  readonly estimate: number;
  /** Ends of the interval; null where the data leave it open. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly level: number;
}

/**
 * How much worse the fit becomes as one parameter moves away from its estimate.
 * A straight line means that estimate plus and minus standard errors is a fair
 * interval; a bent one, that it is not.
 */
export function profileChart(data: ProfileData, options: ChartOptions = {}): Chart {
  const rows: ChartRow[] = data.points.map((p) => ({ value: p.value, t: p.t }));
  const ends = [data.lower, data.upper].filter((x): x is number => x !== null);
  const percent = Math.round(100 * data.level);
  const x = {
    field: "value",
    type: "quantitative",
    title: data.parameter,
    scale: { zero: false, nice: true },
    axis: { labelExpr: plainNumber },
  };
  const { value, range } = formatInterval(data.estimate, data.lower, data.upper, "");
  const open = ends.length < 2 ? " The interval is open where no dashed line stands." : "";
  return makeChart(
    {
      ...defaultSize,
      height: 220,
      ...sizeOf(options),
      layer: [
        {
          data: { values: rows },
          mark: { type: "line", strokeWidth: 2, color: palette.measured },
          encoding: { x, y: numberAxis("t", "Signed root of the rise in squares") },
        },
        {
          data: { values: [{ value: data.estimate }] },
          mark: { type: "rule", color: palette.grey },
          encoding: { x },
        },
        {
          data: { values: ends.map((value) => ({ value })) },
          mark: { type: "rule", color: palette.usualLine, strokeDash: [5, 4] },
          encoding: { x },
        },
      ],
    },
    {
      title: options.title ?? `Profile of ${data.parameter}`,
      alt: `Profile of ${data.parameter}: estimate ${value}, ${percent} % interval ${range}.`,
      caption: `${data.points.length} fits with the parameter held. Solid: estimate; dashed: ${percent} % profile-likelihood interval.${open}`,
    },
    rows,
  );
}
