import type { Chart } from "../../charts/chart.js";
import { drawFitting } from "../../charts/fit-spec.js";
import { renderPng } from "../../charts/render-png.js";
import { type DrawnChart, drawChart } from "../../charts/render-svg.js";

/** One chart as page and document show it. */
export interface ChartDrawings {
  /** At its own width. */
  wide?: DrawnChart;
  /** Drawn again for a screen of 390 pixels. */
  narrow?: DrawnChart;
  /** At its own width, for documents that take no SVG. */
  png?: ReturnType<typeof renderPng>;
}

/** A chart as a page shows it: at its own width, or drawn again for a screen of 390 pixels. */
export function drawnAt(chart: Chart, width: "wide" | "narrow"): DrawnChart {
  const known = drawingsOf(chart);
  if (width === "narrow") {
    known.narrow ??= drawFitting(chart, narrowWidth, known.wide);
    return known.narrow;
  }
  known.wide ??= drawChart(
    chart.spec,
    (chart.reading ?? []).map((each) => each.x),
  );
  return known.wide;
}

/** A chart as a document shows it. */
export function chartPng(chart: Chart): ReturnType<typeof renderPng> {
  const known = drawingsOf(chart);
  known.png ??= renderPng(drawnAt(chart, "wide").svg, 2);
  return known.png;
}

/** What was drawn of a chart so far: each drawing is made once, although page and document show it. */
export function drawingsOf(chart: Chart): ChartDrawings {
  const known = drawings.get(chart) ?? {};
  drawings.set(chart, known);
  return known;
}

/** Lets go of the drawings of a chart, which else are held as long as the chart is. */
export function forgetDrawings(chart: Chart): void {
  drawings.delete(chart);
}

/** A screen of 390 pixels less the page's margins. */
const narrowWidth = 358;

const drawings = new WeakMap<Chart, ChartDrawings>();
