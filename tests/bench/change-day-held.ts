import { defaultCalibration } from "../../src/flags/budget/default-calibration.js";
import { thresholdsFor } from "../../src/flags/budget/false-flag-budget.js";
import { watchGroup } from "../../src/flags/watch/watch-group.js";
import { designs, seededRandom, simulateCohort } from "./simulated-cohorts.js";

/**
 * How often the 90 % interval of the day since which an animal gains more slowly
 * holds the true day, for one alone and in groups: on the day on which its flag is first
 * raised and 7, 14 and 20 days after the change. The gain of one animal falls by half on
 * a day drawn evenly from 10 to 34 after its arrival ("anywhere") or on day 21. Seeds
 * 20261 and 20264 were written down before the first run.
 */
export interface ChangeDayCoverage {
  readonly world: string;
  readonly animals: number;
  readonly when: string;
  readonly looked: number;
  readonly held: number;
  readonly meanWidthD: number;
}

export function groupCoverage(
  world: string,
  animals: number,
  groups: number,
  from: "day 21" | "anywhere",
): readonly ChangeDayCoverage[] {
  const threshold = thresholdsFor(defaultCalibration, 2, animals)["slowed gain"];
  const found = new Map<string, { n: number; held: number; width: number }>();
  for (let i = 0; i < groups; i++) {
    const random = seededRandom(from === "day 21" ? 20261 : 20264).split(i);
    const fromDay = from === "day 21" ? 21 : 10 + random.split(1).below(25);
    const cohort = simulateCohort(
      { animals, days: fromDay + 21, ...designs[world]!, affected: { animal: 0, fromDay } },
      random,
    );
    const truth = cohort.changeDay!;
    const own = cohort.animals[0]!;
    let raised = false;
    watchGroup(
      cohort.animals,
      truth + 20,
      {},
      (seen) => {
        if (seen.animal !== 0 || seen.change === null || seen.day <= truth) return;
        const earliest = own.day[seen.change.earliest]!;
        const latest = own.day[seen.change.latest]!;
        const note = (when: string) => {
          const entry = found.get(when) ?? { n: 0, held: 0, width: 0 };
          entry.n++;
          if (earliest <= truth && truth <= latest) entry.held++;
          entry.width += latest - earliest;
          found.set(when, entry);
        };
        const after = seen.day - truth;
        if (after === 7 || after === 14 || after === 20) note(`${after} days after`);
        if (!raised && seen.statistics["slowed gain"] >= threshold) {
          raised = true;
          note("flag first raised");
        }
      },
      truth,
    );
  }
  return [...found].map(([when, { n, held, width }]) => ({
    world: `${world}, ${from}`,
    animals,
    when,
    looked: n,
    held: held / n,
    meanWidthD: width / n,
  }));
}

/** What the page says of all rows: number of looks, held in 100, and the lowest row, rounded down. */
export function changeDaysHeld(rows: readonly Pick<ChangeDayCoverage, "looked" | "held">[]) {
  const looks = rows.reduce((sum, r) => sum + r.looked, 0);
  const held = rows.reduce((sum, r) => sum + r.held * r.looked, 0);
  return {
    looks,
    held: Math.round((100 * held) / looks),
    lowest: Math.floor(100 * Math.min(...rows.map((r) => r.held))),
  };
}
