import type { StudySettings, WeighingRow } from "./animal-series.js";

/**
 * In what condition an animal was weighed. Usual: dry coat, before a meal.
 * Not told: nothing written speaks against it. Unusual: damp or wet, or after
 * a meal.
 */
export type Condition = "usual" | "not told" | "unusual";

export function conditionOf(row: WeighingRow): Condition {
  if (row.coat === "dry" && row.meal === "before") return "usual";
  if (row.coat === "damp" || row.coat === "wet" || row.meal === "after") return "unusual";
  return "not told";
}

/**
 * What a value may miss the animal's usual-condition mass by (standard error,
 * share of mass), besides the scale's own error. Working values of this
 * project, to be judged as such: gut and bladder fill within a day, a meal in
 * the stomach, water held by a coat.
 */
export const conditionErrors = {
  usual: 0.007,
  "coat not told": 0.015,
  "meal not told": 0.015,
  "after a meal": 0.03,
  damp: 0.02,
  wet: 0.04,
} as const;

/** Standard error of a scale at a reading, g: the study's own, else 0.2 % of the reading and at least 1 g. */
export function scaleErrorG(
  row: Pick<WeighingRow, "scaleId" | "massG">,
  settings: Pick<StudySettings, "scaleErrorG">,
): number {
  const named =
    row.scaleId !== null && Object.hasOwn(settings.scaleErrorG, row.scaleId)
      ? settings.scaleErrorG[row.scaleId]
      : undefined;
  return named ?? Math.max(1, 0.002 * row.massG);
}

/** Standard error of a weighing as the animal's usual-condition mass, g. */
export function weighingError(row: WeighingRow, netG: number, settings: StudySettings): number {
  const scale = scaleErrorG(row, settings);
  let share = conditionErrors.usual ** 2;
  if (row.coat === null) share += conditionErrors["coat not told"] ** 2;
  else if (row.coat !== "dry") share += conditionErrors[row.coat] ** 2;
  if (row.meal === "unknown") share += conditionErrors["meal not told"] ** 2;
  else if (row.meal === "after") share += conditionErrors["after a meal"] ** 2;
  return Math.sqrt(scale ** 2 + share * netG ** 2);
}
