import { type Notice, notice } from "../../core/notice.js";
import type { IntakeDay } from "../../rates/intake-by-day.js";
import type { CivilDate } from "../../series/animal-series.js";
import { addDays } from "../../units/calendar.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import {
  isBuildUp,
  isInUsualFast,
  longestFastD,
  type PhaseOn,
} from "../animal-day/settled-days.js";

/** The last full feeding day of an animal, and what it can be compared with. */
export interface FedDay {
  readonly day: CivilDate;
  readonly intake: IntakeDay;
  /** The full day before it; null where that one cannot be judged. */
  readonly before: IntakeDay | null;
  /** In the week after admission or after a fast: intake is expected to rise. */
  readonly buildUp: boolean;
  /** Up to ten earlier days that make its habit: neither these two, nor its first three days, nor a fast. */
  readonly habit: readonly IntakeDay[];
}

/** Days that may make a habit, and the fewest that do. */
export const habitDays = 10;
export const fewestHabitDays = 4;

/**
 * The last full feeding day before `onDay`, or why it is not judged: no feed is
 * recorded, the animal came on it or was in its fast, or feeds went to its group, so that what it ate
 * of them is not known. The feeding day under way is never judged: part of it may
 * not be written yet.
 */
export function fedDay(
  animal: PreparedAnimal,
  onDay: CivilDate,
  phaseOn: PhaseOn,
): FedDay | Notice {
  const day = addDays(onDay, -1);
  const usable = (d: CivilDate) => {
    const intake = animal.intake.get(d);
    const whole = d !== animal.firstDay && !animal.sharedOn.has(d);
    return intake !== undefined && intake.feeds > 0 && whole ? intake : null;
  };
  if (animal.sharedOn.has(day))
    return notice("flag-shared-feeds", "info", { animal: animal.id, day });
  const longest = longestFastD(animal.profile);
  if ([day, onDay].some((d) => isInUsualFast(phaseOn, d, longest)))
    return notice("flag-fast-intake", "info", { animal: animal.id, day });
  if (day === animal.firstDay) return notice("flag-first-day", "info", { animal: animal.id, day });
  const intake = usable(day);
  if (intake === null) return notice("flag-no-feeds", "info", { animal: animal.id, day });
  const habit: IntakeDay[] = [];
  for (let back = 2; back < 2 + habitDays; back++) {
    const d = addDays(day, -back);
    if (isBeginning(animal, d) || phaseOn(d) === "post-weaning fast") break;
    const earlier = usable(d);
    if (earlier !== null) habit.push(earlier);
  }
  return {
    day,
    intake,
    before: usable(addDays(day, -1)),
    buildUp: isBuildUp(phaseOn, day, animal.firstDay),
    habit,
  };
}

/** Is that day one of the first three in care, on which intake only begins? */
function isBeginning({ firstDay }: PreparedAnimal, day: CivilDate): boolean {
  return firstDay !== null && day < addDays(firstDay, 3);
}
