export {
  type AnimalCourseData,
  animalCourseChart,
  type TimedMark,
  type TimedRange,
} from "./animal-course-chart.js";
export {
  type AverageCurveData,
  type AverageCurvePoint,
  averageCurveChart,
} from "./average-curve-chart.js";
export {
  type Chart,
  type ChartOptions,
  type ChartRow,
  type ChartText,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
export {
  type ContemporariesData,
  contemporariesChart,
  type NamedHistory,
} from "./contemporaries-chart.js";
export { type ConversionData, type ConversionRow, conversionChart } from "./conversion-chart.js";
export {
  type ExpectedBand,
  type ExpectedWeekData,
  expectedWeekChart,
} from "./expected-week-chart.js";
export { type FlagDayRow, type FlagsData, flagsChart } from "./flags-chart.js";
export { type ForecastData, forecastChart } from "./forecast-chart.js";
export { type GainData, type GainPoint, gainChart } from "./gain-chart.js";
export {
  type CurvePoint,
  type GrowthCurveData,
  growthCurveChart,
  type MassPoint,
  type NamedCurve,
} from "./growth-curve-chart.js";
export { type HistoriesData, historiesChart } from "./histories-chart.js";
export { type IntakeData, type IntakeDayRow, intakeChart } from "./intake-chart.js";
export { type IntervalData, type IntervalRow, intervalChart } from "./interval-chart.js";
export {
  type ObservationsData,
  observationsChart,
  type TimedMass,
  type TimedNumber,
  type TimedObservation,
} from "./observations-chart.js";
export { palette } from "./palette.js";
export { type ProfileData, profileChart } from "./profile-chart.js";
export { type RationChartAnimal, type RationChartData, rationChart } from "./ration-chart.js";
export { renderPng } from "./render-png.js";
export { renderSvg } from "./render-svg.js";
export { type ResidualData, type ResidualPoint, residualChart } from "./residual-chart.js";
export {
  type CurveDifferencePoint,
  type GroupCurve,
  type GroupCurveDifference,
  type SeasonCurvesData,
  seasonCurvesChart,
} from "./season-curves-chart.js";
export { type ShareData, type SharePoint, shareChart } from "./share-chart.js";
export { type WeaningData, weaningChart } from "./weaning-chart.js";
