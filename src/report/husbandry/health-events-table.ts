import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { animalLabel } from "../section/animal-label.js";
import { type Table, table } from "../section/section.js";

const kinds = ["vomit", "regurgitation", "bloat", "medication", "fluids", "exam"] as const;

/** How often each animal vomited, was treated, was examined; a missing entry is no proof of absence. */
export function healthEventsTable(animals: readonly AnimalAnalysis[]): Table {
  return table(
    "health-events",
    "Entries by kind over the time in care. What was not written down cannot be counted.",
    [
      { title: "Animal" },
      ...kinds.map((kind) => ({
        title: kind[0]!.toUpperCase() + kind.slice(1),
        align: "number" as const,
        meaning: `Entries of the kind ${kind}`,
      })),
      { title: "Lowest temperature", unit: "°C", align: "number", digits: 3 },
      { title: "Highest temperature", unit: "°C", align: "number", digits: 3 },
      { title: "Outcome", meaning: "As written in the table of animals" },
    ],
    animals.map((animal) => {
      const { observations } = animal.series;
      const temperatures = observations.flatMap((o) =>
        o.kind === "temperature" && o.value !== null ? [o.value] : [],
      );
      const { outcome, outcomeReason } = animal.series.animal;
      return [
        animalLabel(animal),
        ...kinds.map((kind) => observations.filter((o) => o.kind === kind).length),
        temperatures.length === 0 ? null : Math.min(...temperatures),
        temperatures.length === 0 ? null : Math.max(...temperatures),
        outcome === null ? null : `${outcome}${outcomeReason === null ? "" : `: ${outcomeReason}`}`,
      ];
    }),
    "No animal.",
  );
}
