export {
  cohortAveragePicture,
  cohortCurvesPicture,
  cohortGainsPicture,
} from "./cohort-pictures.js";
export { conversionPicture } from "./conversion-picture.js";
export { expectedWeekPicture } from "./expected-week-picture.js";
export { fitPicture, profilePicture, residualPicture } from "./fit-pictures.js";
export { forecastPicture } from "./forecast-picture.js";
export { gainPicture } from "./gain-picture.js";
export { gainsPicture } from "./gains-picture.js";
export { growthCurvePicture } from "./growth-curve-picture.js";
export { intakePicture } from "./intake-picture.js";
export { massAmongOthersPicture } from "./masses-picture.js";
export { milestonePicture } from "./milestone-picture.js";
export { milestoneSeasonsPicture } from "./milestone-seasons-picture.js";
export { rationsPicture } from "./rations-picture.js";
export { seasonCurvesPicture } from "./season-curves-picture.js";
export { seasonMassesPicture } from "./season-masses-picture.js";
export { seasonsPicture } from "./seasons-picture.js";
export { timelinePicture } from "./timeline-picture.js";
export { weaningPicture } from "./weaning-picture.js";
