export {
  addDays,
  ageInDays,
  type CivilDate,
  civilDayOf,
  dateOfNumber,
  daysBetween,
  type FeedingDaySpan,
  feedingDayOf,
  feedingDaySpan,
  feedingDays,
  type LocalReading,
  localInstant,
  localNoon,
  numberOfDate,
  readLocal,
  toLocal,
} from "./calendar.js";
export {
  formatDate,
  formatFixed,
  formatInstant,
  formatMass,
  formatMeasured,
  formatNumber,
  formatPercent,
  formatRate,
  localText,
  screenWording,
} from "./format.js";
export {
  convert,
  type Dimension,
  dimensionOf,
  type UnitName,
  unitNamed,
  units,
} from "./quantity.js";
export {
  type DecimalMark,
  type QuantityReading,
  readNumber,
  readQuantity,
} from "./read-quantity.js";
export {
  type DateReading,
  type DateStyle,
  dateStyleOf,
  exchangeDayMonth,
  readDate,
  readTime,
  type TimeReading,
} from "./read-time.js";
export { type Instant, isZone, type ZoneClock, zoneClock } from "./zone.js";
