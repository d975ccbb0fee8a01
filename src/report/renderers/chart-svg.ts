import type { Chart } from "../../charts/chart.js";
import { renderSvg } from "../../charts/render-svg.js";

/** A chart as SVG text; drawn once, although page and document both show it. */
export function chartSvg(chart: Chart): string {
  const known = drawn.get(chart);
  if (known !== undefined) return known;
  const svg = renderSvg(chart.spec);
  drawn.set(chart, svg);
  return svg;
}

const drawn = new WeakMap<Chart, string>();
