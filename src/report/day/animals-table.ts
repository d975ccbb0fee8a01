import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { formatDays, localText } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { type Table, table } from "../section/section.js";
import { withTidy } from "../section/tidy-table.js";

/** Who they were: species, sex, birth and how it is known, arrival, outcome. */
export function animalsTable(analysis: StudyAnalysis, animals: readonly AnimalAnalysis[]): Table {
  const { zone } = analysis.settings;
  const shown = table(
    "animals",
    `${count(animals.length, "animal")}.`,
    [
      { title: "Animal" },
      { title: "Species" },
      { title: "Sex" },
      { title: "Born" },
      { title: "Birth known from" },
      { title: "Admitted (local)" },
      { title: "First mass", unit: "g", align: "number", digits: 5 },
      { title: "Age at first mass", unit: "d", align: "number", digits: 3 },
      { title: "Outcome" },
      { title: "On" },
    ],
    animals.map(({ series: { animal }, first, ...a }) => [
      animalLabel(a),
      animal.species,
      animal.sex,
      birthText(animal.birthDateEarliest, animal.birthDateLatest),
      animal.birthDateBasis,
      animal.admittedAt === null ? "not known" : localText(animal.admittedAt, zone),
      first?.massG ?? null,
      first?.ageD ?? null,
      animal.outcome ?? "not written",
      animal.outcomeDate ?? "–",
    ]),
    "No animal.",
  );
  const columns = shown.columns.flatMap((c) =>
    c.title === "Born" ? [{ title: "Born, earliest" }, { title: "Born, latest" }] : [c],
  );
  return withTidy(
    shown,
    columns,
    animals.map(({ series: { animal } }, i) =>
      shown.rows[i]!.flatMap((cell, at) =>
        shown.columns[at]!.title === "Born"
          ? [animal.birthDateEarliest, animal.birthDateLatest]
          : [cell],
      ),
    ),
  );
}

function birthText(earliest: string | null, latest: string | null): string {
  if (earliest === null && latest === null) return "not known";
  if (earliest === null || latest === null || earliest === latest) return earliest ?? latest ?? "";
  return formatDays(earliest, latest);
}
