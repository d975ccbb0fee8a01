export {
  type AveragedCurve,
  type AveragedSum,
  averageOverIndividuals,
} from "./average.js";
export { bootstrapNonlinearMixed, calibrateIndividuals } from "./bootstrap.js";
export {
  fitNonlinearMixed,
  type NonlinearMixedFit,
  type NonlinearMixedOptions,
} from "./fit-nonlinear-mixed.js";
export { type Individual, makeIndividual } from "./individual.js";
export { maximiseMarginal } from "./marginal.js";
export type { MeanFunction, NonlinearMixedData } from "./model.js";
export {
  type IndividualPrior,
  individualPrior,
  type PopulationModel,
  populationModel,
} from "./prior.js";
