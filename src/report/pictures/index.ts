export { gainPicture } from "./gain-picture.js";
export { gainsPicture } from "./gains-picture.js";
export { growthCurvePicture } from "./growth-curve-picture.js";
export { intakePicture } from "./intake-picture.js";
export { massAmongOthersPicture } from "./masses-picture.js";
export { seasonMassesPicture } from "./season-masses-picture.js";
export { seasonsPicture } from "./seasons-picture.js";
export { timelinePicture } from "./timeline-picture.js";
