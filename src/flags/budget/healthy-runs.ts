import { daysJudged } from "../watch/judged-days.js";
import {
  isJudged,
  type WatchedAnimal,
  watchedStatistics,
  watchGroup,
} from "../watch/watch-group.js";
import { perStatistic } from "../watch/watched-day.js";
import type { HealthyRun } from "./thresholds-for-budget.js";

/** Watches a group and keeps, animal by animal, the statistics of its judged days and their numbers. */
export function healthyRuns(
  animals: readonly WatchedAnimal[],
  lastDay: number,
): { readonly run: HealthyRun; readonly days: Int32Array }[] {
  const kept = animals.map(() => ({ per: perStatistic((): number[] => []), days: [] as number[] }));
  watchGroup(animals, lastDay, {}, ({ animal, day, statistics }) => {
    if (!isJudged(statistics)) return;
    const { per, days } = kept[animal]!;
    for (const kind of watchedStatistics) per[kind].push(statistics[kind]);
    days.push(day);
  });
  return kept.map(({ per, days }, i) => ({
    run: {
      statistics: perStatistic((kind) => Float64Array.from(per[kind])),
      judgedDays: daysJudged(days, Math.min(lastDay, animals[i]!.day.at(-1) ?? lastDay)),
    },
    days: Int32Array.from(days),
  }));
}
