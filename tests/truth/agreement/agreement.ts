import type { Comparison } from "./comparison.js";
import { handbooks } from "./handbooks.js";
import { nistLinear } from "./nist-linear.js";
import { nistNonlinear } from "./nist-nonlinear.js";
import { rModels } from "./r-models.js";
import { rValues } from "./r-values.js";
import { scipyValues } from "./scipy.js";

/**
 * Everything that is quickly worked out again and compared with a number from outside
 * the project: a few seconds of processor time. The sweeps beside this folder hold more.
 */
export function agreement(): Comparison[] {
  return [
    ...nistLinear(),
    ...nistNonlinear(),
    ...rValues(),
    ...rModels(),
    ...scipyValues(),
    ...handbooks(),
  ];
}
