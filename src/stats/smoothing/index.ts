export type * from "./cubic-curve.js";
export { curveAt } from "./cubic-curve.js";
export { monotoneInterpolation, naturalSpline } from "./interpolate.js";
export type * from "./local-regression.js";
export { localRegression } from "./local-regression.js";
export type * from "./smoothing-spline.js";
export { smoothingSpline } from "./smoothing-spline.js";
export type * from "./spline-basis.js";
export { bSplineBasis, naturalSplineBasis } from "./spline-basis.js";
