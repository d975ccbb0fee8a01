import type { VegaLiteSpec } from "./chart.js";
import { shortNames, wrapText } from "./fit-text.js";
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
 * With `from`, the value at the foot of the plot, none rises above its head. A
 * label may have more lines than one.
 */
export function endLabels(
  labels: readonly EndLabel[],
  plot: {
    readonly range: number;
    readonly height: number;
    readonly x: VegaLiteSpec;
    readonly y: VegaLiteSpec;
    readonly from?: number;
    /** Longer words go on in another line; without it they lose their middle. */
    readonly width?: number;
    /** Pixels between the plot and the labels. */
    readonly dx?: number;
  },
): readonly VegaLiteSpec[] {
  if (labels.length === 0) return [];
  const { width } = plot;
  const short = width === undefined ? shortenedOf(labels) : new Map<string, string>();
  const wrapped =
    width === undefined
      ? labels
      : labels.map((each) => ({
          ...each,
          label: each.label
            .split("\n")
            .flatMap((line) => wrapText(line, width, 12, true, 3))
            .join("\n"),
        }));
  const step = (lineHeight * plot.range) / plot.height;
  const rows = apart(wrapped, plot).flatMap((each) => {
    const lines = (short.get(each.label) ?? each.label).split("\n");
    return lines.map((label, i) => ({
      ...each,
      label,
      at: each.at + ((lines.length - 1) / 2 - i) * step,
    }));
  });
  return [
    {
      data: { values: rows },
      mark: {
        type: "text",
        align: "left",
        baseline: "middle",
        dx: plot.dx ?? 6,
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

/** Each label at the value nearest to its own that leaves room for those below and above it. */
function apart(
  labels: readonly EndLabel[],
  plot: { readonly range: number; readonly height: number; readonly from?: number },
): readonly (EndLabel & { readonly at: number })[] {
  const perPixel = plot.range / plot.height;
  const half = (each: EndLabel) => (each.label.split("\n").length * lineHeight * perPixel) / 2;
  const upwards = [...labels].sort((a, b) => a.y - b.y).map((each) => ({ ...each, at: each.y }));
  let below = Number.NEGATIVE_INFINITY;
  for (const each of upwards) {
    each.at = Math.max(each.at, below + half(each));
    below = each.at + half(each);
  }
  if (plot.from === undefined) return upwards;
  // Above the head of the plot they would stand over what is above it: pushed down again.
  let above = plot.from + plot.range + (lineHeight * perPixel) / 2;
  for (const each of upwards.reverse()) {
    each.at = Math.min(each.at, above - half(each));
    above = each.at - half(each);
  }
  return upwards;
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
