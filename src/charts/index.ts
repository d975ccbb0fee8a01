export {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
export { palette } from "./palette.js";
export { renderSvg } from "./render-svg.js";
