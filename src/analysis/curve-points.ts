import { type Notice, notice } from "../core/notice.js";
import type { LeftOut } from "../core/result.js";
import type { Phase } from "../rates/phases-of.js";
import type { AnimalSeries } from "../series/animal-series.js";

export interface CurveData {
  /** Days of age, or days since admission where the birth date is not known. */
  readonly ages: readonly number[];
  /** Daily masses, g. */
  readonly masses: readonly number[];
  readonly agesFrom: "birth" | "admission";
  readonly leftOut: readonly LeftOut[];
  readonly notices: readonly Notice[];
}

/**
 * The daily masses to which a growth curve is fitted: without the arrival phase
 * (its change is rehydration, not growth) and, in species that fast after
 * weaning, up to that fast (a rising curve cannot follow it). What was left out
 * is counted and said.
 *
 * @example curvePoints(series, phases).ages.length // 47
 */
export function curvePoints(series: AnimalSeries, phases: readonly Phase[]): CurveData {
  const animal = series.animal.animalId;
  const arrivalEnd = phases.find((p) => p.phase === "arrival")?.to ?? Number.NEGATIVE_INFINITY;
  const fastStart =
    phases.find((p) => p.phase === "post-weaning fast")?.from ?? Number.POSITIVE_INFINITY;
  const agesFrom = series.age.birth === null ? "admission" : "birth";
  const dated = series.daily.flatMap((d) => {
    const age = agesFrom === "birth" ? d.ageD : d.sinceAdmissionD;
    return age === null ? [] : [{ age, at: d.at, mass: d.massG }];
  });
  const early = dated.filter((d) => d.at < arrivalEnd);
  const late = dated.filter((d) => d.at >= fastStart);
  const kept = dated.filter((d) => d.at >= arrivalEnd && d.at < fastStart);
  const notices: Notice[] = [];
  if (agesFrom === "admission" && kept.length > 0)
    notices.push(notice("analysis-ages-from-admission", "info", { animal }));
  if (early.length > 0)
    notices.push(notice("analysis-arrival-left-out", "info", { animal, n: early.length }));
  if (late.length > 0)
    notices.push(notice("analysis-fast-left-out", "info", { animal, n: late.length }));
  return {
    ages: kept.map((d) => d.age),
    masses: kept.map((d) => d.mass),
    agesFrom,
    leftOut: [
      { reason: "arrival phase", count: early.length },
      { reason: "post-weaning fast and later", count: late.length },
    ].filter((each) => each.count > 0),
    notices,
  };
}
