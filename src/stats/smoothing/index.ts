export { type CubicCurve, curveAt } from "./cubic-curve.js";
export { monotoneInterpolation, naturalSpline } from "./interpolate.js";
export { localRegression } from "./local-regression.js";
export { smoothingSpline } from "./smoothing-spline.js";
export { bSplineBasis, naturalSplineBasis } from "./spline-basis.js";
