export { feedingTable } from "./feeding-table.js";
export { forecastPicture } from "./forecast-picture.js";
export { rationsPicture } from "./rations-picture.js";
export { weaningPicture } from "./weaning-picture.js";
