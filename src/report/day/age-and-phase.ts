import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { civilDayOf, daysBetween } from "../../units/calendar.js";
import { say } from "../section/say.js";

/** Told from what was eaten: with no feed in the records nobody knows. */
const byFood = new Set(["milk", "mixed", "solids"]);

/**
 * How old an animal in care is on the day that the page is about, however long ago it was
 * weighed, and in which phase: "89 days, mixed".
 */
export function ageAndPhase(onDay: string, zone: string, animal: AnimalAnalysis): string {
  const { series } = animal;
  const { birth } = series.age;
  const fed = series.feeds.length + series.sharedFeeds.length > 0;
  const phase = animal.phase !== null && byFood.has(animal.phase) && !fed ? null : animal.phase;
  const weighed = animal.last?.ageD == null ? null : animal.last;
  const days =
    weighed !== null
      ? Math.floor(weighed.ageD!) + Math.max(0, daysBetween(weighed.feedingDay, onDay))
      : birth === null
        ? null
        : Math.max(0, daysBetween(civilDayOf(birth, zone), onDay));
  return days === null ? say("day-no-age", { phase }) : say("day-age", { days, phase });
}
