export { type Adjustment, adjustPValues } from "./adjust-p-values.js";
export {
  kendallTau,
  pearsonCorrelation,
  spearmanCorrelation,
} from "./correlation.js";
export {
  binomialTest,
  exactShareInterval,
  rateRatioTest,
  twoShareTest,
  wilsonInterval,
} from "./count-tests.js";
export { hedgesG } from "./effect-size.js";
export { type FiellerInterval, fiellerInterval } from "./fieller-interval.js";
export { fisherExactTest } from "./fisher-exact-test.js";
export { kolmogorovSmirnovTest } from "./kolmogorov-smirnov.js";
export { type OneWayAnova, oneWayAnova } from "./one-way-anova.js";
export {
  generalisedEsdTest,
  grubbsTest,
  hampelFilter,
  modifiedZScores,
} from "./outlier-tests.js";
export {
  gamesHowellComparisons,
  tukeyComparisons,
} from "./pairwise-comparisons.js";
export {
  kruskalWallisTest,
  rankSumTest,
  signedRankTest,
} from "./rank-tests.js";
export { shapiroWilkTest } from "./shapiro-wilk.js";
export { type TTest, tTest } from "./t-test.js";
export { bartlettTest, leveneTest, varianceRatioTest } from "./variance-tests.js";
export { welchAnova } from "./welch-anova.js";
