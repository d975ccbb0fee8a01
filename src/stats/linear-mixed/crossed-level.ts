import { UsageError } from "../../core/usage-error.js";
import type { RandomLevel } from "./data.js";

/**
 * Random intercepts of a grouping factor that crosses the others (every plate
 * holds every sample) as a level for `fitLinearMixed`: one group that holds all
 * rows, a column of zeros and ones for each group of the factor, one variance for
 * all. It comes first in `levels`; the other factors lie inside it.
 * Time grows with the cube of its groups, so give the factor that has fewer.
 *
 * Definition: Bates et al. (2015), section 2, with Z written out.
 *
 * @param group the group of each row
 * @throws UsageError for no name, or groups that are no list.
 * @returns effects in the order in which the groups first appear, each named by its label.
 * @example
 * fitLinearMixed({ response, fixed, levels: [crossedLevel("sample", sample),
 *   { name: "plate", group: plate, names: ["one"], columns: [ones] }] })
 * // the penicillin data: sd 0.8467 (plate), 1.9316 (sample), sigma 0.5499
 */
export function crossedLevel(name: string, group: ArrayLike<string | number>): RandomLevel {
  if (typeof name !== "string" || (!Array.isArray(group) && !ArrayBuffer.isView(group))) {
    throw new UsageError({
      needed: "the name of one factor and a list with the group of each row",
      came: `${Array.isArray(name) ? "a list" : typeof name} and ${group === undefined ? "nothing" : typeof group} came`,
      where: "crossedLevel",
      todo: 'Write crossedLevel("sample", sample); other factors are levels beside it.',
    });
  }
  const labels = [...new Set(Array.from(group as ArrayLike<string | number>, String))];
  return {
    name,
    group: new Array<number>(group.length).fill(1),
    names: labels,
    columns: labels.map((label) =>
      Float64Array.from(group as ArrayLike<unknown>, (g) => (String(g) === label ? 1 : 0)),
    ),
    covariance: "identity",
  };
}
