export type * from "./adjust-p-values.js";
export { adjustPValues } from "./adjust-p-values.js";
export type * from "./alternative.js";
export type * from "./correlation.js";
export { kendallTau, pearsonCorrelation, spearmanCorrelation } from "./correlation.js";
export type * from "./count-tests.js";
export {
  binomialTest,
  exactProportionInterval,
  rateRatioTest,
  twoProportionTest,
  wilsonInterval,
} from "./count-tests.js";
export type * from "./effect-size.js";
export { hedgesG } from "./effect-size.js";
export type * from "./fieller-interval.js";
export { fiellerInterval } from "./fieller-interval.js";
export type * from "./fisher-exact-test.js";
export { fisherExactTest } from "./fisher-exact-test.js";
export { exactShareInterval, twoShareTest } from "./former-names.js";
export { kolmogorovSmirnovTest } from "./kolmogorov-smirnov.js";
export type * from "./midranks.js";
export type * from "./one-way-anova.js";
export { oneWayAnova } from "./one-way-anova.js";
export type * from "./outlier-tests.js";
export { generalisedEsdTest, grubbsTest, hampelFilter, modifiedZScores } from "./outlier-tests.js";
export type * from "./pairwise-comparisons.js";
export { gamesHowellComparisons, tukeyComparisons } from "./pairwise-comparisons.js";
export type * from "./rank-tests.js";
export { kruskalWallisTest, rankSumTest, signedRankTest } from "./rank-tests.js";
export type * from "./shapiro-wilk.js";
export { shapiroWilkTest } from "./shapiro-wilk.js";
export type * from "./t-test.js";
export { tTest } from "./t-test.js";
export type * from "./variance-tests.js";
export { bartlettTest, leveneTest, varianceRatioTest } from "./variance-tests.js";
export type * from "./welch-anova.js";
export { welchAnova } from "./welch-anova.js";
