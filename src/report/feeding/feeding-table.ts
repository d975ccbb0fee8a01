import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { dayMs } from "../../units/day-ms.js";
import { animalLabel } from "../section/animal-label.js";
import { type Table, table } from "../section/section.js";

/** Feeding of each animal over its time in care: days, first solids, phases. */
export function feedingTable(animals: readonly AnimalAnalysis[]): Table {
  return table(
    "feeding",
    "Feeding over the time in care: feeding days with a recorded feed, feeds, days on which what was eaten or its energy is not known, and the age at which each phase began.",
    [
      { title: "Animal" },
      { title: "Fed days", align: "number" },
      { title: "Feeds", align: "number", digits: 6 },
      { title: "Days not fully known", align: "number" },
      { title: "First solids at age", unit: "d", align: "number", digits: 3 },
      { title: "Solids only from age", unit: "d", align: "number", digits: 3 },
      { title: "Last 7 complete days, eaten", unit: "g/d", align: "number", digits: 4 },
      { title: "energy eaten", unit: "kcal/d", align: "number", digits: 4 },
    ],
    animals.map((a) => {
      const fed = a.intake.value.filter((d) => d.feeds > 0);
      return [
        animalLabel(a),
        fed.length,
        fed.reduce((sum, d) => sum + d.feeds, 0),
        fed.filter((d) => d.eatenG.value === null || d.kcal.value === null).length,
        phaseAge(a, "mixed"),
        phaseAge(a, "solids"),
        a.recentIntake.eatenG,
        a.recentIntake.kcal,
      ];
    }),
    "No animal.",
  );
}

/** Age in days at which a phase began; null where it did not or the birth is unknown. */
function phaseAge(animal: AnimalAnalysis, phase: string): number | null {
  const from = animal.phases.find((p) => p.phase === phase)?.from;
  const { birth } = animal.series.age;
  return from === undefined || birth === null ? null : (from - birth) / dayMs;
}
