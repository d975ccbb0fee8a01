import { formerName } from "../../core/former-name.js";
import { exactProportionInterval, twoProportionTest } from "./count-tests.js";

/**
 * @deprecated since 0.2: `exactProportionInterval`.
 * @example exactShareInterval(2, 10).upper // 0.556095
 */
export const exactShareInterval = formerName(
  "stats.exactShareInterval",
  "stats.exactProportionInterval",
  exactProportionInterval,
);

/**
 * @deprecated since 0.2: `twoProportionTest`.
 * @example twoShareTest([15, 25], [50, 50]).chiSquared // 4.16667
 */
export const twoShareTest = formerName(
  "stats.twoShareTest",
  "stats.twoProportionTest",
  twoProportionTest,
);
