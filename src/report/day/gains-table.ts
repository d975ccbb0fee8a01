import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { formatDate } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { type Cell, type Table, table } from "../section/section.js";

export interface GainsTableOptions {
  /** Only animals of this species. */
  readonly species?: string;
  /** Default: those in care on the day looked at. */
  readonly who?: "in care" | "all";
}

/**
 * Who gains how: age, mass, gain over the last days with its interval,
 * relative gain, what was eaten and the day's status, one row per animal.
 */
export function gainsTable(analysis: StudyAnalysis, options: GainsTableOptions = {}): Table {
  const animals = analysis.animals
    .filter((a) => (options.who ?? "in care") === "all" || a.inCare)
    .filter((a) => options.species === undefined || a.species === options.species);
  return table(
    "gains",
    `${count(animals.length, "animal")}${options.who === "all" ? "" : " in care"} on ${formatDate(analysis.onDay)}: gain over the last ${count(analysis.gainDays, "day")} (regression on daily masses, with its 95 % interval; n: the weighed days in it) and what was eaten (mean of the last 7 complete feeding days).`,
    [
      { title: "Animal" },
      { title: "Species" },
      { title: "Phase" },
      { title: "Age", unit: "d", align: "number", digits: 3 },
      { title: "Mass", unit: "g", align: "number", digits: 5 },
      { title: "Gain", unit: "g/d", align: "number", digits: 3 },
      { title: "n", align: "number" },
      { title: "Relative gain", unit: "%/d", align: "number", digits: 2 },
      { title: "Eaten", unit: "% of body mass/d", align: "number", digits: 3 },
      { title: "On the day" },
    ],
    animals.map(row),
    "No animal was in care that day.",
  );
}

function row(a: AnimalAnalysis): readonly Cell[] {
  return [
    animalLabel(a),
    a.species,
    a.phase ?? "not known",
    a.last?.ageD ?? null,
    a.last?.massG ?? null,
    a.gain.recent.gain,
    a.gain.recent.n,
    a.gain.recent.relative,
    a.recentIntake.shareOfMassPct,
    a.day?.status ?? "not in care",
  ];
}
