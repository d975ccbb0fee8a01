export { type AdjustedMeans, adjustedMeans } from "./adjusted-means.js";
export {
  analyseCovariance,
  type CovarianceAnalysis,
  type SumsOfSquares,
} from "./analysis-of-covariance.js";
export { autocorrelation } from "./autocorrelation.js";
export { findMeanShift, fitBrokenLine, fitTwoLines } from "./change-point.js";
export { choleskyFactor } from "./cholesky.js";
export { type Description, describe } from "./describe.js";
export { betaCumulative, betaDensity, betaQuantile } from "./distributions/beta.js";
export {
  binomialCumulative,
  binomialDensity,
  binomialQuantile,
} from "./distributions/binomial.js";
export {
  chiSquaredCumulative,
  chiSquaredDensity,
  chiSquaredQuantile,
} from "./distributions/chi-squared.js";
export {
  exponentialCumulative,
  exponentialDensity,
  exponentialQuantile,
} from "./distributions/exponential.js";
export { fCumulative, fDensity, fQuantile } from "./distributions/f.js";
export { gammaCumulative, gammaDensity, gammaQuantile } from "./distributions/gamma.js";
export { noncentralTCumulative, noncentralTQuantile } from "./distributions/noncentral-t.js";
export {
  normalCumulative,
  normalDensity,
  normalLogCumulative,
  normalQuantile,
} from "./distributions/normal.js";
export { poissonCumulative, poissonDensity, poissonQuantile } from "./distributions/poisson.js";
export {
  studentTCumulative,
  studentTDensity,
  studentTQuantile,
} from "./distributions/student-t.js";
export {
  studentizedRangeCumulative,
  studentizedRangeQuantile,
} from "./distributions/studentized-range.js";
export type { Tail } from "./distributions/tail.js";
export { uniformCumulative, uniformDensity, uniformQuantile } from "./distributions/uniform.js";
export { weibullCumulative, weibullDensity, weibullQuantile } from "./distributions/weibull.js";
export {
  type ErrorCorrectedData,
  type ErrorCorrectedRegression,
  errorCorrectedRegression,
} from "./error-corrected-regression.js";
export { type FiellerInterval, fiellerInterval } from "./fieller-interval.js";
export { findRoot } from "./find-root.js";
export { gaussHermite } from "./gauss-hermite.js";
export { fitGeneralisedLeastSquares } from "./generalised-least-squares.js";
export { fitGeneralisedLinearModel } from "./generalised-linear-model.js";
export { type Adjustment, adjustPValues } from "./hypothesis-tests/adjust-p-values.js";
export {
  kendallTau,
  pearsonCorrelation,
  spearmanCorrelation,
} from "./hypothesis-tests/correlation.js";
export {
  binomialTest,
  exactShareInterval,
  rateRatioTest,
  twoShareTest,
  wilsonInterval,
} from "./hypothesis-tests/count-tests.js";
export { hedgesG } from "./hypothesis-tests/effect-size.js";
export { fisherExactTest } from "./hypothesis-tests/fisher-exact-test.js";
export { kolmogorovSmirnovTest } from "./hypothesis-tests/kolmogorov-smirnov.js";
export {
  gamesHowellComparisons,
  tukeyComparisons,
} from "./hypothesis-tests/pairwise-comparisons.js";
export {
  kruskalWallisTest,
  rankSumTest,
  signedRankTest,
} from "./hypothesis-tests/rank-tests.js";
export { shapiroWilkTest } from "./hypothesis-tests/shapiro-wilk.js";
export { type TTest, tTest } from "./hypothesis-tests/t-test.js";
export { bartlettTest, leveneTest, varianceRatioTest } from "./hypothesis-tests/variance-tests.js";
export { welchAnova } from "./hypothesis-tests/welch-anova.js";
export { fitLinearMixed, type LinearMixedFit, type LinearMixedOptions } from "./linear-mixed.js";
export { containmentDf } from "./linear-mixed-containment.js";
export {
  type ContrastEstimate,
  type DfMethod,
  estimateContrast,
  likelihoodRatioTest,
  type MixedFTest,
  prepareInference,
  testContrasts,
} from "./linear-mixed-contrasts.js";
export { buildDesign, type DesignVariables, type FixedDesign } from "./linear-mixed-design.js";
export type { LinearMixedData, RandomLevel } from "./linear-mixed-engine.js";
export type { ResidualStructure } from "./linear-mixed-residual.js";
export { splineVariable } from "./linear-mixed-spline.js";
export { meanRow, mixedAdjustedMeans, testTerms, varianceExplained } from "./linear-mixed-terms.js";
export { fitLinearModel, type LinearModel } from "./linear-model.js";
export { linearModelInfluence } from "./linear-model-influence.js";
export { type Matrix, makeMatrix, matrixFromRows, matrixRows } from "./matrix.js";
export { median } from "./median.js";
export { mixedTHalfWidth } from "./mixed-t-half-width.js";
export { buildModelDesign, type Term, type Variable } from "./model-design.js";
export {
  fitNonlinearMixed,
  type NonlinearMixedFit,
  type NonlinearMixedOptions,
} from "./nonlinear-mixed.js";
export {
  type AveragedCurve,
  type AveragedSum,
  averageOverIndividuals,
} from "./nonlinear-mixed-average.js";
export { bootstrapNonlinearMixed, calibrateIndividuals } from "./nonlinear-mixed-bootstrap.js";
export { type Individual, makeIndividual } from "./nonlinear-mixed-individual.js";
export { maximiseMarginal } from "./nonlinear-mixed-marginal.js";
export type { MeanFunction, NonlinearMixedData } from "./nonlinear-mixed-model.js";
export {
  type IndividualPrior,
  individualPrior,
  type PopulationModel,
  populationModel,
} from "./nonlinear-mixed-prior.js";
export { type OneWayAnova, oneWayAnova } from "./one-way-anova.js";
export {
  generalisedEsdTest,
  grubbsTest,
  hampelFilter,
  modifiedZScores,
} from "./outlier-tests.js";
export { predictLinearModel } from "./predict-linear-model.js";
export { type QuantileType, quantile, quantiles } from "./quantile.js";
export { quantileRegression } from "./quantile-regression.js";
export { quantileRegressionErrors } from "./quantile-regression-errors.js";
export { type Bootstrap, bootstrap } from "./resampling/bootstrap.js";
export { type PermutationTest, permutationTest } from "./resampling/permutation-test.js";
export {
  bisquareInfluence,
  hampelInfluence,
  huberInfluence,
} from "./robust/influence-function.js";
export { huberLocation } from "./robust/robust-location.js";
export { robustRegression } from "./robust/robust-regression.js";
export { theilSen } from "./robust/theil-sen.js";
export { controlChartConstants } from "./sequential/control-chart-constants.js";
export {
  cusumChart,
  cusumLimitFor,
  cusumRunLength,
  twoSidedCusumRunLength,
} from "./sequential/cusum.js";
export { ewmaChart, ewmaRunLength } from "./sequential/ewma.js";
export { clippedNormalIncrement, normalIncrement } from "./sequential/increment-law.js";
export { neighbourCorrelations, whitenRows } from "./serial-correlation.js";
export { type SerialLine, serialGrid, serialLikelihood, serialLine } from "./serial-line.js";
export { type CubicCurve, curveAt } from "./smoothing/cubic-curve.js";
export { monotoneInterpolation, naturalSpline } from "./smoothing/interpolate.js";
export { localRegression } from "./smoothing/local-regression.js";
export { smoothingSpline } from "./smoothing/smoothing-spline.js";
export { bSplineBasis, naturalSplineBasis } from "./spline-basis.js";
export { competingEvents } from "./survival/competing-events.js";
export { concordance } from "./survival/concordance.js";
export { coxRegression } from "./survival/cox-regression.js";
export {
  kaplanMeier,
  restrictedMean,
  survivalAt,
  survivalQuantile,
} from "./survival/kaplan-meier.js";
export { logRankTest } from "./survival/log-rank-test.js";
export { parametricSurvival } from "./survival/parametric-survival.js";
export { proportionalHazardsCheck } from "./survival/proportional-hazards-check.js";
