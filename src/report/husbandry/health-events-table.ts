import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { animalLabel } from "../section/animal-label.js";
import { capital } from "../section/capital.js";
import { type Table, table } from "../section/section.js";

const kinds = ["vomit", "regurgitation", "bloat", "medication", "fluids", "exam"] as const;

/** Events, counts in a line included; a line of none is no event, one that cannot be read is. */
function eventsOf(signs: AnimalAnalysis["series"]["signs"], kind: string): number {
  return signs
    .filter((s) => s.kind === kind && s.state !== "none" && s.state !== "not looked")
    .reduce((sum, s) => sum + (s.count ?? 1), 0);
}

/** How often each animal vomited, was treated, was examined; a missing entry is no proof of absence. */
export function healthEventsTable(animals: readonly AnimalAnalysis[]): Table {
  return table(
    "health-events",
    "Entries by kind over the time in care. What was not written down cannot be counted.",
    [
      { title: "Animal" },
      ...kinds.map((kind) => ({
        title: capital(kind),
        align: "number" as const,
        meaning: `Entries of the kind ${kind}`,
      })),
      { title: "Lowest temperature", unit: "°C", align: "number", digits: 3 },
      { title: "Highest temperature", unit: "°C", align: "number", digits: 3 },
      { title: "Outcome", meaning: "As written in the table of animals" },
    ],
    animals.map((animal) => {
      const { signs } = animal.series;
      const temperatures = signs.flatMap((s) =>
        s.kind === "temperature" && s.measure !== null ? [s.measure.low, s.measure.high] : [],
      );
      const { outcome, outcomeReason } = animal.series.animal;
      return [
        animalLabel(animal),
        ...kinds.map((kind) => eventsOf(signs, kind)),
        temperatures.length === 0 ? null : Math.min(...temperatures),
        temperatures.length === 0 ? null : Math.max(...temperatures),
        outcome === null ? null : `${outcome}${outcomeReason === null ? "" : `: ${outcomeReason}`}`,
      ];
    }),
    "No animal.",
  );
}
