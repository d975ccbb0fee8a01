import { columnValues } from "./cohort-columns.js";
import type { CohortFit } from "./cohort-fit.js";

/** The kinds of animals in the cohort with their shares, or the one kind asked for. */
export function cohortMix(
  fit: CohortFit,
  only: Readonly<Record<string, string | number>> | undefined,
  where: string,
): { readonly covariates: Record<string, number>; readonly share: number }[] {
  const { animals, covariates } = fit.value;
  const kinds = new Map<string, { covariates: Record<string, number>; share: number }>();
  const given = only === undefined ? animals.map((a) => a.covariates) : [only];
  for (const each of given) {
    const values = columnValues(covariates, each, where);
    const key = JSON.stringify(values);
    const kind = kinds.get(key) ?? { covariates: values, share: 0 };
    kind.share += 1 / given.length;
    kinds.set(key, kind);
  }
  return [...kinds.values()];
}
