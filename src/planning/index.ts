export { apportionGrams } from "./apportion-grams.js";
export { type BatchNeed, type BatchSizeOptions, batchSize } from "./batch-size.js";
export {
  type CalibrateForecastOptions,
  calibrateForecast,
  type ForecastCalibration,
} from "./calibrate-forecast.js";
export {
  type ComparedRation,
  compareRations,
  type RationScenario,
  usualScenarios,
} from "./compare-rations.js";
export {
  type DaySheet,
  type DaySheetAnimal,
  type DaySheetDiet,
  type DaySheetRow,
  daySheet,
} from "./day-sheet.js";
export {
  type AnimalForecasts,
  type ForecastAnimalsOptions,
  forecastAnimals,
} from "./forecast-animals.js";
export type { ForecastModel } from "./forecast-expectation.js";
export type { ForecastOptions } from "./forecast-options.js";
export { type ForecastBacktest, forecastTarget, type TargetForecast } from "./forecast-target.js";
export {
  type FormulaMix,
  type MixCheck,
  type MixIngredient,
  type MixOptions,
  type MixProperty,
  type MixTarget,
  mixFormula,
} from "./mix-formula.js";
export { type PlanDayOptions, type PlannedDay, planDay } from "./plan-day.js";
export { planRation } from "./plan-ration.js";
export { type AnimalShift, planShift, type ShiftPlan } from "./plan-shift.js";
export type { Ration, RationFeed, RationLimit, RationPart } from "./ration.js";
export type { RationTarget } from "./ration-amount.js";
export type { RationDiet } from "./ration-diet.js";
export type { RationLimits, RationOptions } from "./ration-options.js";
export { rationRows, type SheetRow, scenarioRows, sheetRows } from "./sheet-rows.js";
export {
  type WeaningOptions,
  type WeaningPoint,
  type WeaningProgress,
  weaningProgress,
} from "./weaning-progress.js";
