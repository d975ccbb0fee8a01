export { smoothTrend, type TrendSettings, type TrendSmooth, type TrendState } from "./trend.js";
