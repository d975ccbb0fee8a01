import { UsageError } from "../core/usage-error.js";
import type { AnimalSeries, DailyMass } from "../series/animal-series.js";
import { isDeath } from "../series/is-death.js";
import { dayMs } from "../units/day-ms.js";

export interface AgeWindow {
  readonly fromAgeD: number;
  readonly toAgeD: number;
}

/** From the first day at or above one mass to the first day at or above another. */
export interface MassWindow {
  readonly fromMassG: number;
  readonly toMassG: number;
}

export type GainWindow = AgeWindow | MassWindow;

/** Whether the window is one of ages. */
export function isAgeWindow(window: GainWindow): window is AgeWindow {
  return "fromAgeD" in window;
}

/** Refuses a window that ends before it begins. */
export function requireGainWindow(window: GainWindow): void {
  const [from, to] = isAgeWindow(window)
    ? [window.fromAgeD, window.toAgeD]
    : [window.fromMassG, window.toMassG];
  if (to > from && from >= 0) return;
  throw new UsageError({
    needed: "a window with 0 <= fromAgeD < toAgeD, or 0 <= fromMassG < toMassG",
    came: `${from} to ${to}`,
    where: "seasonGains",
    todo: "Give days of age, e.g. { fromAgeD: 21, toAgeD: 84 }, or grams.",
  });
}

/** The code of why an animal's weighed days do not fill the window. */
type WindowNotFilled =
  | "season-arrived-late"
  | "season-arrived-heavy"
  | "season-gap-at-start"
  | "season-died-before-end"
  | "season-left-before-end";

/** The weighed days inside a window of ages, or the code of why they do not fill it. */
export function daysByAge(
  animal: AnimalSeries,
  window: AgeWindow,
  birth: number,
  edgeD: number | undefined,
): readonly DailyMass[] | WindowNotFilled {
  const { fromAgeD, toAgeD } = window;
  const age = (d: DailyMass) => (d.at - birth) / dayMs;
  const edge = edgeD ?? (toAgeD - fromAgeD) / 10;
  const inside = animal.daily.filter((d) => age(d) >= fromAgeD && age(d) <= toAgeD);
  const start = inside[0];
  const end = inside.at(-1);
  if (start === undefined || end === undefined || age(start) > fromAgeD + edge)
    return age(animal.daily[0]!) > fromAgeD + edge ? "season-arrived-late" : "season-gap-at-start";
  return age(end) < toAgeD - edge ? endedEarly(animal) : inside;
}

/** The weighed days from one mass to another, or the code of why there are none. */
export function daysByMass(
  animal: AnimalSeries,
  window: MassWindow,
): readonly DailyMass[] | WindowNotFilled {
  if (animal.daily[0]!.massG >= window.fromMassG) return "season-arrived-heavy";
  const from = animal.daily.findIndex((d) => d.massG >= window.fromMassG);
  const to = animal.daily.findIndex((d) => d.massG >= window.toMassG);
  return from < 0 || to < 0 ? endedEarly(animal) : animal.daily.slice(from, to + 1);
}

function endedEarly(animal: AnimalSeries): WindowNotFilled {
  return isDeath(animal.animal.outcome) ? "season-died-before-end" : "season-left-before-end";
}
