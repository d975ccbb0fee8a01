import { type Notice, notice } from "../core/notice.js";
import { energyOf } from "../rates/energy-of.js";
import { intakeByDay } from "../rates/intake-by-day.js";
import { restingEnergy } from "../rates/nutrition-formulas.js";
import type { AnimalSeries, OrderLine, StudySettings } from "../series/animal-series.js";
import { dueLines } from "../series/orders/ordered-on.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { bandAt } from "../species/age-band.js";
import { profileOf } from "../species/profile-of.js";
import { addDays, feedingDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { inWrittenDigits } from "../units/in-written-digits.js";
import { orderedDiet } from "./ration-diet.js";

/** Whole days over which what was eaten is averaged. */
const eatenD = 7;
/** Amounts of two orders this near are one amount. */
const alike = 0.99;

/**
 * An order that was not raised while the mass grew by more than the bound (%): said with
 * what a kilogram is ordered and eaten now and what it was, beside the range of the
 * species' source. That an animal gains as expected says nothing of whether it is fed
 * enough: where all are fed too little, all gain alike.
 *
 * @param series the history up to `at`, nothing later.
 * @example outgrownOrder(series, { at, until: day.to, bound: 10, settings })?.code // "order-outgrown"
 */
export function outgrownOrder(
  series: AnimalSeries,
  options: {
    readonly at: number;
    /** End of the day printed: an order that begins in it is the order. */
    readonly until: number;
    readonly bound: number;
    readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "speciesOverrides">;
  },
): Notice | null {
  const { at, until, bound, settings } = options;
  const steps = series.orders.steps.filter((s) => s.from < until);
  const now = steps.at(-1);
  if (now === undefined) return null;
  const lines = dueLines(series.orders, Math.max(now.from, Math.min(at, until - 1)));
  const unit = new Set(lines.map((line) => line.dietId)).size === 1 ? "g" : "kcal";
  const amount = dayOf(series, lines, unit) ?? 0;
  const first = series.daily[0];
  if (amount === 0 || first === undefined) return null;
  let since = now.from;
  for (const step of steps.slice(0, -1).reverse()) {
    const own = dueLines(series.orders, step.from);
    const before = diets(own) === diets(lines) ? (dayOf(series, own, unit) ?? 0) : 0;
    if (before < alike * amount) break;
    since = step.from;
  }
  since = Math.max(since, first.at);
  const then = smoothedMassAt(series, since).value;
  const mass = smoothedMassAt(series, at).value;
  if (then === null || mass === null) return null;
  const pct = inWrittenDigits(100 * (mass / then - 1));
  if (pct < bound) return null;
  const kcal = dayOf(series, lines, "kcal");
  const per = kcal === null ? "g" : "kcal";
  const ordered = kcal ?? amount;
  const range = kcal === null ? null : demandPerKg(series, mass / 1000, at, settings);
  return notice("order-outgrown", "caution", {
    since,
    pct,
    before: then,
    mass,
    unit: per,
    perKgThen: ordered / (then / 1000),
    perKg: ordered / (mass / 1000),
    eatenPerKg: eatenPerKg(series, mass / 1000, at, per, settings),
    low: range?.low ?? null,
    high: range?.high ?? null,
    source: range?.source ?? null,
  });
}

const diets = (lines: readonly OrderLine[]) =>
  [...new Set(lines.map((line) => line.dietId ?? ""))].sort().join();

/** What lines come to in a day; null where an amount or an energy is not known. */
export function dayOf(
  series: AnimalSeries,
  lines: readonly OrderLine[],
  unit: "g" | "kcal",
): number | null {
  let sum = 0;
  for (const line of lines) {
    const diet = unit === "kcal" ? orderedDiet(series, line) : null;
    const per = diet === null ? null : energyOf(diet.composition).kcalPerG.value;
    const factor = unit === "g" ? 1 : per;
    if (line.gPerDay === null || factor === null) return null;
    sum += line.gPerDay * factor;
  }
  return sum;
}

/** Demand by the species' source at this mass and age, kcal/kg a day; null without one. */
function demandPerKg(
  series: AnimalSeries,
  massKg: number,
  at: number,
  settings: Pick<StudySettings, "speciesOverrides">,
) {
  const profile = profileOf(series.animal.species, settings.speciesOverrides);
  const ageD = series.age.birth === null ? null : (at - series.age.birth) / dayMs;
  const band = bandAt(profile.energyDemand, ageD);
  if (band === null) return null;
  const { range, source } = band.timesResting;
  const resting = restingEnergy(massKg) / massKg;
  return { low: range[0] * resting, high: range[1] * resting, source };
}

/** Eaten a day and kilogram over the last whole days with every amount known; null where none is. */
function eatenPerKg(
  series: AnimalSeries,
  massKg: number,
  at: number,
  unit: "g" | "kcal",
  settings: Pick<StudySettings, "zone" | "feedingDayStartHour">,
): number | null {
  // Days without a feed limit nothing, so that only these few are worked out.
  const { zone, feedingDayStartHour } = settings;
  const today = feedingDayOf(at, zone, feedingDayStartHour);
  const [from, to] = [addDays(today, -eatenD), addDays(today, -1)];
  const known = intakeByDay(series, { settings, from, to }).value.flatMap(
    (d) => (unit === "g" ? d.eatenG.value : d.kcal.value) ?? [],
  );
  return known.length === 0 ? null : known.reduce((a, b) => a + b, 0) / known.length / massKg;
}
