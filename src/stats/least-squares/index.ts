export {
  fitLeastSquares,
  type LeastSquaresData,
  type LeastSquaresFit,
  type LeastSquaresModel,
  type LeastSquaresOptions,
  type LeastSquaresStop,
} from "./fit-least-squares.js";
export { type ProfileInterval, profileInterval } from "./profile.js";
export { fitRobustLeastSquares, type RobustFit, type RobustLoss } from "./robust.js";
export { fitSerialLeastSquares, type SerialFit } from "./serial.js";
