export type * from "./calendar.js";
export {
  addDays,
  civilDayOf,
  daysBetween,
  feedingDayOf,
  feedingDaySpan,
  localInstant,
  numberOfDate,
} from "./calendar.js";
export { formatDate, formatDays, formatInstant, localText } from "./format-date.js";
export { formatMass, formatMeasured } from "./format-measured.js";
export { count, formatNumber } from "./format-number.js";
export type * from "./quantity.js";
export { convert } from "./quantity.js";
export type * from "./read-quantity.js";
export { readQuantity } from "./read-quantity.js";
export type * from "./read-rough-date.js";
export type * from "./read-time.js";
export type * from "./zone.js";
