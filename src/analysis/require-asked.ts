import { UsageError } from "../core/usage-error.js";
import { growthCurves } from "../growth/curve-catalogue.js";
import { closestName } from "../records/closest-name.js";
import { isCivilDate } from "../units/calendar.js";
import { nearestDay } from "../units/nearest-day.js";

/** What a question was asked with is looked at before anything is worked out: a slip costs no time. */

/**
 * Refuses a day that is none.
 *
 * @throws UsageError naming the day that is meant, where it can be told.
 * @example requireDay("2025-3-7", "the day asked about") // throws: Is 2025-03-07 meant?
 */
export function requireDay(day: string | null | undefined, where: string): void {
  if (day == null || isCivilDate(day)) return;
  const near = nearestDay(day);
  throw new UsageError({
    needed: "a day written as YYYY-MM-DD",
    came: `"${day}"`,
    where,
    todo: near === null ? "Write, for example, 2024-07-10." : `Is ${near} meant?`,
  });
}

/**
 * Refuses a number outside of what can be.
 *
 * @param limits what is needed in words ("a mass in g above 0"), the least and the most.
 * @throws UsageError for one below, above, or that is no number.
 * @example requireWithin(99, "the hour", { needed: "an hour from 0 to 24", least: 0, most: 24 }) // throws
 */
export function requireWithin(
  value: number | null | undefined,
  where: string,
  limits: { readonly needed: string; readonly least: number; readonly most: number },
): void {
  const { needed, least, most } = limits;
  if (value == null || (value >= least && value <= most)) return;
  throw new UsageError({
    needed,
    came: `${value} was given`,
    where,
    todo: "Correct it, or leave it out (null) for the usual.",
  });
}

/** Oldest age that is asked about, days: a hundred years. */
const oldestD = 36_525;
/** Heaviest animal that is asked about, g: thirty tonnes. */
const heaviestG = 30_000_000;

/**
 * Refuses two ages between which nothing lies.
 *
 * @throws UsageError for an age that none can be, and where the first is not the younger.
 * @example requireAges(84, 21) // throws: needed two ages, the younger first
 */
export function requireAges(fromAgeD: number | null, toAgeD: number | null): void {
  const limits = { needed: "an age in days from 0 on", least: 0, most: oldestD };
  requireWithin(fromAgeD, "the first age asked about", limits);
  requireWithin(toAgeD, "the last age asked about", limits);
  const needed = "an age in days later than the first";
  requireWithin(toAgeD, "the last age asked about", {
    needed,
    least: (fromAgeD ?? 0) + 1,
    most: oldestD,
  });
}

/** Refuses a mass that is none. @throws UsageError @example requireMass(-9000, "the target mass") // throws */
export function requireMass(massG: number | null | undefined, where: string): void {
  requireWithin(massG, where, { needed: "a mass in g from 1 on", least: 1, most: heaviestG });
}

/**
 * Refuses a growth curve that is not in the catalogue.
 *
 * @throws UsageError naming the nearest.
 * @example requireCurve("gomperz") // throws: Is gompertz meant?
 */
export function requireCurve(name: string): void {
  if (Object.hasOwn(growthCurves, name)) return;
  const all = Object.keys(growthCurves);
  const near = closestName(name.trim(), new Set(all));
  throw new UsageError({
    needed: "a growth curve of the catalogue",
    came: `"${name}"`,
    where: "the curve asked about",
    todo: near === null ? `Use one of: ${all.join(", ")}.` : `Is ${near} meant?`,
  });
}

/**
 * Refuses a milestone that looks like one that was looked for and is none. One that is
 * like no other may be looked for next year.
 *
 * @param known milestones that the records name.
 * @throws UsageError naming the nearest.
 * @example requireMilestone("full weening", ["full weaning"]) // throws: Is full weaning meant?
 */
export function requireMilestone(name: string | null | undefined, known: readonly string[]): void {
  if (name == null || known.some((each) => each.toLowerCase() === name.toLowerCase())) return;
  const near = closestName(name.trim(), new Set(known));
  if (near === null) return;
  throw new UsageError({
    needed: "a milestone that was looked for",
    came: `"${name}"`,
    where: "the milestone asked about",
    todo: `Is ${near} meant?`,
  });
}
