import type { Chart } from "../../charts/chart.js";
import { loadChartLibraries } from "../../charts/render-svg.js";
import { type ChartDrawings, chartPng, drawnAt } from "./chart-svg.js";

/** A chart on its way to a thread. */
export interface DrawJob {
  readonly chart: Chart;
  /** Also for a document. */
  readonly png: boolean;
}

/** Draws one chart in every form that is asked for; exported for `openWorkers`. */
export function drawJob({ chart, png }: DrawJob): ChartDrawings {
  return {
    wide: drawnAt(chart, "wide"),
    narrow: drawnAt(chart, "narrow"),
    ...(png ? { png: chartPng(chart) } : {}),
  };
}

// A thread is started while records are still read: what it needs is there when the first chart comes.
loadChartLibraries();
