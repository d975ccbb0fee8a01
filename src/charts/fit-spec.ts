import { type Chart, chartTitle, titleLines, type VegaLiteSpec } from "./chart.js";
import { wrapText } from "./fit-text.js";
import { type DrawnChart, drawChart, measuredWidth } from "./render-svg.js";

/**
 * A chart drawn again so that the whole picture is at most `width` pixels wide,
 * never scaled: plots are narrower, ticks fewer, the title has more lines, and
 * letters keep their size. What stands beside the plots (labels, padding) is
 * learned from the drawing at the usual width (`usual`, where it was drawn before); one made for
 * narrow screens is measured.
 *
 * @example drawFitting(chart, 358).width // at most 358
 */
export function drawFitting(chart: Chart, width: number, usual?: DrawnChart): DrawnChart {
  const at = (chart.reading ?? []).map((each) => each.x);
  const made = chart.narrow ?? chart.spec;
  const known = chart.narrow === undefined ? (usual ?? drawChart(made, at)) : undefined;
  let plot = plotWidth(made);
  if (plot === null) return known ?? drawChart(made, at);
  let drawn = known;
  let drawnWidth = known?.width ?? measuredWidth(made);
  if (drawnWidth <= width) {
    drawn ??= drawChart(made, at);
    drawnWidth = drawn.width;
  }
  // Labels change a little with the plot, so the second try corrects the first.
  for (let attempt = 0; attempt < 4 && drawnWidth > width; attempt++) {
    plot = Math.max(smallestPlot, Math.floor(plot - (drawnWidth - width) - 1));
    const fitting =
      chart.narrow === undefined
        ? narrowed(chart, plot, width)
        : (withWidth(chart.narrow, plot) as VegaLiteSpec);
    drawn = drawChart(fitting, at);
    drawnWidth = drawn.width;
  }
  return drawn ?? drawChart(made, at);
}

const smallestPlot = 120;
/** What the title of an axis may reach beyond its plot, in pixels. */
const axisRoom = 60;

/** Width of the plots of a specification; null where it follows from the number of rows. */
function plotWidth(spec: VegaLiteSpec): number | null {
  for (const each of [spec, ...panelsOf(spec)]) {
    if (typeof each["width"] === "number") return each["width"];
  }
  return null;
}

function panelsOf(spec: VegaLiteSpec): readonly VegaLiteSpec[] {
  return (spec["vconcat"] ?? []) as readonly VegaLiteSpec[];
}

/** A specification made for a narrow screen needs nothing but its last pixels. */
function withWidth(part: unknown, plot: number): unknown {
  if (Array.isArray(part)) return part.map((each) => withWidth(each, plot));
  if (typeof part !== "object" || part === null) return part;
  return Object.fromEntries(
    Object.entries(part).map(([key, value]) => [
      key,
      key === "width" && typeof value === "number"
        ? plot
        : key === "data"
          ? value
          : withWidth(value, plot),
    ]),
  );
}

function narrowed(chart: Chart, plot: number, width: number): VegaLiteSpec {
  const lines = titleLines(chartTitle(chart), width - 30);
  const title = { ...(chart.spec["title"] as object), text: lines };
  return { ...(narrow(chart.spec, plot) as VegaLiteSpec), title };
}

/** Every width, number of ticks, limit of a label and row of a legend in a specification, made for a narrow screen. */
function narrow(part: unknown, plot: number): unknown {
  if (Array.isArray(part)) return part.map((each) => narrow(each, plot));
  if (typeof part !== "object" || part === null) return part;
  return Object.fromEntries(
    Object.entries(part).map(([key, value]) => {
      if (key === "data") return [key, value];
      if (key === "values") return [key, isExpression(value) ? everySecond(value) : value];
      if (key === "width" && typeof value === "number" && value > smallestPlot) return [key, plot];
      // A long title of an axis would be wider than the picture.
      if (key === "title" && typeof value === "string")
        return [key, wrapText(value, plot + axisRoom, 12, true, 3)];
      if (key === "tickCount" && typeof value === "number") return [key, Math.min(value, 4)];
      if (key === "labelLimit" && typeof value === "number") return [key, Math.min(value, 130)];
      if (key === "legend" && isConfigOfLegends(value))
        return [key, { ...value, columns: 2, layout: { direction: "vertical", anchor: "start" } }];
      // Names at the right of the plot move inside it, above the end of their line.
      if (key === "padding" && isRoom(value)) return [key, { ...value, right: 14 }];
      if (key === "mark" && isEndLabel(value))
        return [key, { ...value, align: "right", baseline: "bottom", dx: -2, dy: -3 }];
      if (key === "columns" && typeof value === "number") return [key, Math.min(value, 2)];
      return [key, narrow(value, plot)];
    }),
  );
}

/** Marks of an axis that are given one by one: every second of them, back from the last. */
function everySecond({ expr }: { readonly expr: string }): { readonly expr: string } {
  const all = JSON.parse(expr) as readonly number[];
  const kept = all.length <= 4 ? all : all.filter((_, i) => (all.length - 1 - i) % 2 === 0);
  return { expr: JSON.stringify(kept) };
}

const isExpression = (value: unknown): value is { readonly expr: string } =>
  typeof value === "object" && value !== null && "expr" in value;

/** The look of all legends, as against the legend of one channel. */
const isConfigOfLegends = (value: unknown): value is object =>
  typeof value === "object" && value !== null && "orient" in value;

const isRoom = (value: unknown): value is object =>
  typeof value === "object" && value !== null && "right" in value;
const isEndLabel = (value: unknown): value is object =>
  typeof value === "object" && value !== null && "clip" in value && "align" in value;
