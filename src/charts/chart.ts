import { wrapText } from "./fit-text.js";
import { palette, seriesColours } from "./palette.js";

/**
 * A chart as plain data: a Vega-Lite 5 specification, the same in one sentence
 * for whoever cannot see it, and a caption that carries n and the method.
 */
export interface Chart {
  readonly kind: "chart";
  /** A Vega-Lite 5 specification: plain JSON with its data inside. */
  readonly spec: VegaLiteSpec;
  /** The same drawn for a screen of 390 pixels; null or missing where the usual one is drawn narrower. */
  readonly narrow?: VegaLiteSpec;
  /** What the picture shows, in words. */
  readonly alt: string;
  readonly caption: string;
  /** Animals by the names that stand in the picture: on a page their names and marks lead to their own pages. */
  readonly animals?: Readonly<Record<string, string>>;
  /** What is read off at each place along the bottom, in order; the last one is read at rest. */
  readonly reading?: readonly Reading[];
  /** The plotted numbers, for the table beside the picture. */
  readonly rows?: readonly ChartRow[];
}

/** The plotted values at one place along the bottom, in words; `x` as the axis has it. */
export interface Reading {
  readonly x: number;
  readonly words: string;
}

/** Kept as plain JSON so that no public declaration mentions the types of a chart library. */
export type VegaLiteSpec = Readonly<Record<string, unknown>>;

export type ChartRow = Readonly<Record<string, string | number | boolean | null>>;

export interface ChartText {
  readonly title: string;
  readonly subtitle?: string;
  readonly alt: string;
  readonly caption: string;
}

/** What every chart function takes besides its data. */
export interface ChartOptions {
  /** Width of the plotting area in pixels. */
  readonly width?: number;
  readonly height?: number;
  readonly title?: string;
  /** Ends of the scale of what is shown, where other pictures of the page show it too (`onOneScale`). */
  readonly domain?: readonly [number, number];
}

/**
 * Wraps the body of a specification (data, layers, panels) with title and the
 * common look.
 *
 * @example makeChart({ mark: "point" }, { title: "Mass", alt: "Mass by day" }).spec.description // "Mass by day"
 */
export function makeChart(
  body: VegaLiteSpec,
  text: ChartText,
  rows?: readonly ChartRow[],
  reading: readonly Reading[] = [],
): Chart {
  const spec: VegaLiteSpec = {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    description: text.alt,
    title: {
      text: titleLines(text.title),
      ...(text.subtitle === undefined ? {} : { subtitle: text.subtitle }),
    },
    ...body,
    config: chartLook,
  };
  return {
    kind: "chart",
    spec,
    alt: text.alt,
    caption: text.caption,
    ...(rows === undefined ? {} : { rows }),
    ...(reading.length === 0 ? {} : { reading }),
  };
}

/** A title wider than a picture goes on in another line, so that it does not widen the picture. */
export function titleLines(title: string, width = titleWidth): string | readonly string[] {
  const lines = wrapText(title, width, titleSize, true, 3);
  return lines.length === 1 ? title : lines;
}

/** Width of the usual plotting area, and the size of a title in `chartLook`, in pixels. */
const titleWidth = 640;
const titleSize = 15;

/** The title of a chart in one line. */
export function chartTitle(chart: Chart): string {
  const { text } = (chart.spec["title"] ?? {}) as { text?: string | readonly string[] };
  return typeof text === "string" ? text : (text?.join(" ") ?? "Chart");
}

const fontStack = 'Inter, system-ui, "Segoe UI", "Noto Sans", Arial, sans-serif';

/** One look for all charts: dark text at 12 px and more, thin grid, no decoration. */
export const chartLook: VegaLiteSpec = {
  font: fontStack,
  background: palette.paper,
  padding: { left: 8, top: 8, right: 14, bottom: 8 },
  view: { stroke: null },
  aria: false,
  // No thousands comma, which half of all readers take for a decimal mark.
  numberFormat: "~f",
  title: {
    anchor: "start",
    font: fontStack,
    fontSize: titleSize,
    fontWeight: 600,
    color: palette.ink,
    offset: 10,
    subtitleFont: fontStack,
    subtitleFontSize: 12,
    subtitleColor: palette.soft,
    subtitlePadding: 4,
  },
  axis: {
    labelFont: fontStack,
    titleFont: fontStack,
    labelFontSize: 12,
    titleFontSize: 12,
    titleFontWeight: 600,
    labelColor: palette.soft,
    titleColor: palette.ink,
    gridColor: palette.hair,
    domainColor: palette.grey,
    tickColor: palette.grey,
    titlePadding: 8,
    labelLimit: 220,
    // A label pulled inwards at the end of an axis would run into its neighbour.
    labelFlush: false,
    labelSeparation: 4,
  },
  legend: {
    labelFont: fontStack,
    titleFont: fontStack,
    labelFontSize: 12,
    titleFontSize: 12,
    titleFontWeight: 600,
    labelColor: palette.ink,
    titleColor: palette.ink,
    labelLimit: 260,
    symbolSize: 90,
    symbolStrokeWidth: 2,
    orient: "bottom",
    direction: "horizontal",
    columns: 4,
  },
  header: {
    labelFont: fontStack,
    titleFont: fontStack,
    labelFontSize: 13,
    titleFontSize: 12,
    labelFontWeight: 600,
    labelColor: palette.ink,
  },
  text: { font: fontStack, fontSize: 12, color: palette.ink },
  range: { category: [...seriesColours] },
  mark: { color: palette.ink },
};
