import type { VegaLiteSpec } from "./chart.js";
import { shortNames } from "./fit-text.js";
import { measureText } from "./measure-text.js";

/** A name that stands beside the end of its line or band, in the colour of it. */
export interface EndLabel {
  readonly label: string;
  readonly x: number;
  readonly y: number;
  readonly colour: string;
}

/**
 * Names at the right of the plot in place of a legend: as many as given, moved
 * apart so that none covers another. `range` is the span of the values up the
 * side, `height` that of the plot in pixels; `x` and `y` are the axes of the plot.
 */
export function endLabels(
  labels: readonly EndLabel[],
  plot: {
    readonly range: number;
    readonly height: number;
    readonly x: VegaLiteSpec;
    readonly y: VegaLiteSpec;
  },
): readonly VegaLiteSpec[] {
  if (labels.length === 0) return [];
  const gap = (lineHeight * plot.range) / plot.height;
  const upwards = [...labels].sort((a, b) => a.y - b.y);
  let below = Number.NEGATIVE_INFINITY;
  const short = shortenedOf(labels);
  const rows = upwards.map((each) => {
    below = Math.max(each.y, below + gap);
    return { ...each, label: short.get(each.label) ?? each.label, at: below };
  });
  return [
    {
      data: { values: rows },
      mark: {
        type: "text",
        align: "left",
        baseline: "middle",
        dx: 6,
        fontWeight: 600,
        clip: false,
      },
      encoding: {
        x: { ...plot.x, field: "x" },
        y: { ...plot.y, field: "at" },
        text: { field: "label" },
        color: { field: "colour", type: "nominal", scale: null, legend: null },
      },
    },
  ];
}

/** Room that such names need at the right of a picture, in pixels. */
export function roomForLabels(labels: readonly EndLabel[]): VegaLiteSpec {
  const shown = [...shortenedOf(labels).values()];
  const widest = Math.max(0, ...shown.map((label) => measureText(label, 12, true)));
  return { left: 8, top: 8, right: labels.length === 0 ? 14 : Math.ceil(widest) + 14, bottom: 8 };
}

/** A name gets no more than this beside the plot, in pixels: the picture must stay on its page. */
const mostWidth = 180;

const shortenedOf = (labels: readonly EndLabel[]) =>
  shortNames(
    labels.map((each) => each.label),
    mostWidth,
    12,
  );

const lineHeight = 15;

/** From the smallest to the largest; 1 where there is nothing between. */
export function spanOf(values: readonly number[]): number {
  const least = values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const most = values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  return most > least ? most - least : 1;
}
