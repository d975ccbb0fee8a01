import type { Chart } from "../../charts/chart.js";
import { drawFitting } from "../../charts/fit-spec.js";
import { type DrawnChart, drawChart } from "../../charts/render-svg.js";

/** A chart as SVG text; drawn once, although page and document both show it. */
export function chartSvg(chart: Chart): string {
  return drawnAt(chart, "wide").svg;
}

/** A chart as a page shows it: at its own width, or drawn again for a screen of 390 pixels. */
export function drawnAt(chart: Chart, width: "wide" | "narrow"): DrawnChart {
  const known = drawn[width].get(chart);
  if (known !== undefined) return known;
  const at = (chart.reading ?? []).map((each) => each.x);
  const made = width === "wide" ? drawChart(chart.spec, at) : drawFitting(chart, narrowWidth);
  drawn[width].set(chart, made);
  return made;
}

/** A screen of 390 pixels less the page's margins. */
const narrowWidth = 358;

const drawn = { wide: new WeakMap<Chart, DrawnChart>(), narrow: new WeakMap<Chart, DrawnChart>() };
