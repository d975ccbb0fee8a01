import type { OutcomesOfCare } from "../../seasons/outcomes-of-care.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/** Outcomes by species and season, and the shares that had died: two tables. */
export function outcomesTables({ seasons, deaths }: OutcomesOfCare): Table[] {
  const outcomes = [...new Set(seasons.flatMap((s) => Object.keys(s.outcomes)))];
  return [
    table(
      "outcomes",
      say("report-outcomes"),
      [
        { title: "Species" },
        { title: "Season" },
        { title: "Admitted", align: "number" },
        ...outcomes.map((title) => ({
          title: capital(title),
          align: "number" as const,
        })),
      ],
      seasons.map((s) => [
        s.species,
        s.season ?? "not written",
        s.admitted,
        ...outcomes.map((each) => s.outcomes[each] ?? 0),
      ]),
      "No animal.",
    ),
    table(
      "deaths",
      say("report-deaths"),
      [
        { title: "Species" },
        { title: "Days since admission", align: "number" },
        { title: "Still watched", align: "number" },
        { title: "Died", unit: "%", align: "number", digits: 2 },
      ],
      deaths.map((d) => [d.species, d.day, d.atRisk, d.died]),
      "No animal has a day of admission.",
    ),
  ];
}
