import type { AnimalAnalysis, StudyAnalysis } from "../analysis/study-analysis.js";
import type { Result } from "../core/result.js";
import type { SeasonComparison } from "../seasons/compare-seasons.js";
import { formatDate } from "../units/format.js";
import { animalSections } from "./animal-sections.js";
import { type DictionaryRow, dictionarySection } from "./dictionary-section.js";
import { healthEventsTable } from "./health-events-table.js";
import { limitsSection } from "./limits-section.js";
import { gainsPicture } from "./pictures/gains-picture.js";
import { seasonsPicture } from "./pictures/seasons-picture.js";
import { chartBlock, type Section, section, type Table, text } from "./section.js";
import { summarySection } from "./summary-section.js";
import { animalLabel } from "./tables/animal-label.js";
import { animalsTable } from "./tables/animals-table.js";
import { conversionTable } from "./tables/conversion-table.js";
import { feedingTable } from "./tables/feeding-table.js";
import { flagsTable } from "./tables/flags-table.js";
import { growthTable } from "./tables/growth-table.js";
import { methodsSection } from "./tables/methods-section.js";
import { recordsTable } from "./tables/records-table.js";
import { seasonComparisonTable, seasonPairsTable } from "./tables/season-tables.js";
import { setAsideTable } from "./tables/set-aside-table.js";
import { slipsTable } from "./tables/slips-table.js";
import { treatmentsTable } from "./treatments-table.js";

export interface ReportInput {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  /** Seasons compared, one result per species that has more than one season. */
  readonly comparisons: readonly Result<"compare-seasons", SeasonComparison>[];
  /** The date the report carries, YYYY-MM-DD; given, never read from a clock. */
  readonly reportDate: string;
  /** Version of this library. */
  readonly version: string;
  /** What the columns of the records hold. */
  readonly dictionary: readonly DictionaryRow[];
  /** Names of people and permit numbers were left out of the records beforehand. */
  readonly peopleLeftOut: boolean;
}

/** A report as sections, before any renderer. */
export interface StudyReport {
  readonly title: string;
  readonly date: string;
  readonly foot: string;
  readonly sections: readonly Section[];
  readonly animals: readonly AnimalReport[];
}

export interface AnimalReport {
  readonly animalId: string;
  readonly title: string;
  readonly sections: readonly Section[];
}

/**
 * Puts the husbandry report of a study together: summary, animals, growth,
 * feeding, health events, flags, comparison, records, methods, limits, data
 * dictionary, and the pages of the animals.
 */
export function studyReport(input: ReportInput): StudyReport {
  const { value } = input.analysis;
  const { animals } = value;
  const flagged = animals.filter((a) => a.day !== null && a.day.raised.length > 0);
  const sections: Section[] = [
    summarySection(input.analysis, input.comparisons),
    section("Animals", [animalsTable(value, animals)]),
    section("Growth", [growthTable(animals), ...gainCharts(value)]),
    section("Feeding", [feedingTable(animals), conversionTable(value, animals)]),
    section("Health events", [healthEventsTable(animals)]),
    section("Flags and what was done", [flagsTable(value), treatmentsTable(value, flagged)]),
    comparisonSection(input.comparisons),
    section("Records", [recordsTable(value), setAsideTable(value), slipsTable(value)]),
    methodsSection(input.analysis),
    limitsSection(),
    dictionarySection(input.dictionary),
  ];
  const people = input.peopleLeftOut ? " Names of people and free notes were left out." : "";
  return {
    title: value.title,
    date: input.reportDate,
    foot:
      `gramline ${input.version}; report of ${formatDate(input.reportDate)}; records up to ${formatDate(value.onDay)}.${people} ` +
      "No diagnosis and no prescription: the attending veterinarian, the permit conditions and local rules decide.",
    sections,
    animals: animals.map((animal) => ({
      animalId: animal.animalId,
      title: animalLabel(animal),
      sections: animalSections(value, animal),
    })),
  };
}

/** All tables of a report in order, those of nested sections included. */
export function reportTables(sections: readonly Section[]): readonly Table[] {
  return sections.flatMap((each) => [
    ...each.blocks.filter((block): block is Table => block.kind === "table"),
    ...reportTables(each.sections ?? []),
  ]);
}

function gainCharts(value: StudyAnalysis) {
  const inCare = value.animals.filter((a: AnimalAnalysis) => a.inCare);
  const species = [...new Set(inCare.map((a) => a.species))];
  if (species.length === 0) return [text("No animal is in care on the day looked at.")];
  return species.map((each) => chartBlock(gainsPicture(value, { species: each })));
}

function comparisonSection(
  comparisons: readonly Result<"compare-seasons", SeasonComparison>[],
): Section {
  if (comparisons.length === 0) {
    return section("Comparison of seasons", [
      text("There are not two seasons of one species to compare."),
    ]);
  }
  return section("Comparison of seasons", [], {
    sections: comparisons.map((comparison) =>
      section(comparison.value.species, [
        { kind: "notices", notices: comparison.value.sentences },
        chartBlock(seasonsPicture(comparison)),
        seasonComparisonTable(comparison),
        seasonPairsTable(comparison),
      ]),
    ),
  });
}
