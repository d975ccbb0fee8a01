import { requireList } from "../../core/require-numbers.js";
import type { LeftOut } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import { UNUSABLE } from "../fit-preparation.js";
import type { GrowthCurve } from "../growth-curve.js";
import type { AnimalHistory } from "./animal-history.js";
import { describeCovariates } from "./cohort-columns.js";
import type { CohortCovariate } from "./cohort-fit.js";

/** A cohort's usable rows, with what was left out. */
export interface PreparedCohort {
  readonly animals: readonly AnimalHistory[];
  readonly leftOut: readonly LeftOut[];
  readonly rows: number;
  readonly covariates: readonly CohortCovariate[];
}

/** Leaves out rows without age or mass and animals without a covariate of the model, and counts them. */
export function prepareCohort(
  histories: readonly AnimalHistory[],
  curve: GrowthCurve,
  options: {
    readonly covariates?: Readonly<Record<string, readonly string[]>>;
    readonly serial?: boolean;
  },
): PreparedCohort {
  const given: unknown = histories;
  if (!Array.isArray(given)) {
    throw new UsageError({
      needed: "a list of histories, { animal, ages, masses } for each animal",
      came: "something else came",
      where: "fitCohort",
      todo: "Put the histories into a list, or fit one animal with fitCurve.",
    });
  }
  const names = [...new Set(Object.values(options.covariates ?? {}).flat())];
  for (const parameter of Object.keys(options.covariates ?? {}))
    requireParameter(curve, parameter, "covariates");
  let unusable = 0;
  let uncovered = 0;
  const animals: AnimalHistory[] = [];
  for (const history of histories) {
    requireList("fitCohort", `ages of ${history.animal}`, history.ages);
    requireList("fitCohort", `masses of ${history.animal}`, history.masses);
    if (history.ages.length !== history.masses.length) {
      throw new UsageError({
        needed: "as many ages as masses for each animal",
        came: `${history.ages.length} ages and ${history.masses.length} masses of ${history.animal}`,
        where: "fitCohort",
        todo: "Give one mass for each age.",
      });
    }
    const rows = history.ages
      .map((age, i) => ({ age, mass: history.masses[i]! }))
      .filter((r) => Number.isFinite(r.age) && Number.isFinite(r.mass) && r.mass > 0)
      .sort((a, b) => a.age - b.age);
    unusable += history.ages.length - rows.length;
    if (rows.length === 0) continue;
    const missing = names.some((name) => {
      const v = history.covariates?.[name];
      return v === undefined || v === "" || (typeof v === "number" && !Number.isFinite(v));
    });
    if (missing) {
      uncovered += rows.length;
      continue;
    }
    // Two weighings at one age would be perfectly correlated neighbours.
    const kept = options.serial ? averagedByAge(rows) : rows;
    animals.push({
      animal: history.animal,
      ages: kept.map((r) => r.age),
      masses: kept.map((r) => r.mass),
      covariates: history.covariates ?? {},
    });
  }
  const leftOut: LeftOut[] = [];
  if (unusable > 0) leftOut.push({ reason: UNUSABLE, count: unusable });
  if (uncovered > 0)
    leftOut.push({ reason: "a covariate of the model is unknown", count: uncovered });
  return {
    animals,
    leftOut,
    rows: animals.reduce((s, a) => s + a.ages.length, 0),
    covariates: animals.length === 0 ? [] : describeCovariates(animals, names),
  };
}

function averagedByAge(rows: readonly { age: number; mass: number }[]) {
  const out: { age: number; mass: number; count: number }[] = [];
  for (const row of rows) {
    const last = out[out.length - 1];
    if (last !== undefined && last.age === row.age) {
      last.mass = (last.mass * last.count + row.mass) / (last.count + 1);
      last.count++;
    } else out.push({ ...row, count: 1 });
  }
  return out;
}

/** @throws UsageError when the curve has no parameter of that name. */
export function requireParameter(curve: GrowthCurve, name: string, option: string): void {
  if (curve.parameters.some((p) => p.name === name)) return;
  throw new UsageError({
    needed: `a parameter of the ${curve.title} curve (${curve.parameters.map((p) => p.name).join(", ")})`,
    came: `"${name}" came`,
    where: `fitCohort, option ${option}`,
    todo: "Choose one of the names.",
  });
}
