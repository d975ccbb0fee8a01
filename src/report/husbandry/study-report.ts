import type { ReportAnswer } from "../../analysis/ask-report.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Notice } from "../../core/notice.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { animalPage } from "../animal/animal-page.js";
import { flagLogTable, flagSeasonsTable, ofLatestSeason } from "../animal/flag-log-table.js";
import { animalsTable } from "../day/animals-table.js";
import { conversionTable } from "../day/conversion-table.js";
import { flagsTable } from "../day/flags-table.js";
import { gainsPicture } from "../day/gains-picture.js";
import { feedingTable } from "../feeding/feeding-table.js";
import { decisionsTable } from "../records/decisions-table.js";
import {
  type DictionaryRow,
  dictionarySection,
  type SpellingRow,
} from "../records/dictionary-section.js";
import { doubtedFeedsTable } from "../records/doubted-feeds-table.js";
import { recordsTable } from "../records/records-table.js";
import { setAsideTable } from "../records/set-aside-table.js";
import { slipsTable } from "../records/slips-table.js";
import {
  comparisonSection,
  groupTables,
  milestonesSection,
  phaseTable,
} from "../seasons/season-sections.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import {
  type Block,
  type Cell,
  chartBlock,
  type LeadBlock,
  list,
  type Section,
  section,
  type Table,
  table,
  text,
} from "../section/section.js";
import { citationsOf } from "./citations-of.js";
import { growthTable } from "./growth-table.js";
import { healthEventsTable } from "./health-events-table.js";
import { limitsSection } from "./limits-section.js";
import { methodsSection } from "./methods-section.js";
import { summarySection } from "./summary-section.js";
import { treatmentsTable } from "./treatments-table.js";

export interface ReportInput {
  readonly answer: Pick<ReportAnswer, "analysis" | "seasons" | "decisions" | "levels" | "shift">;
  /** The date the report carries, YYYY-MM-DD; given, never read from a clock. */
  readonly reportDate: string;
  /** Version of this library. */
  readonly version: string;
  /** What the columns of the records hold. */
  readonly dictionary: readonly DictionaryRow[];
  /** Ways of writing that the reader understood. */
  readonly spellings?: readonly SpellingRow[];
  /** What was left out of the records beforehand so that they name nobody; null where nothing was. */
  readonly peopleLeftOut: Notice | null;
}

/** A report as sections, before any renderer. */
export interface StudyReport {
  readonly title: string;
  readonly date: string;
  readonly foot: string;
  readonly sections: readonly Section[];
  /** The works that the methods rest on. */
  readonly citations: readonly string[];
  /** Tables too long for a page: in the workbook and as CSV only. */
  readonly sheetsOnly: readonly Table[];
  readonly animals: readonly AnimalReport[];
  /** What was read, set aside, doubted and decided: a page of its own. */
  readonly records: readonly Section[];
}

export interface AnimalReport {
  readonly animalId: string;
  readonly title: string;
  readonly lead: LeadBlock;
  readonly sections: readonly Section[];
}

/**
 * Puts the husbandry report of a study together: summary, animals, growth,
 * feeding, health events, flags, comparison, records, methods, limits, data
 * dictionary, and the pages of the animals.
 */
export function studyReport(input: ReportInput): StudyReport {
  const { analysis, seasons, decisions } = input.answer;
  const { value } = analysis;
  const { animals } = value;
  const citations = citationsOf(analysis, seasons);
  const records = section("Records", [
    recordsTable(value),
    setAsideTable(value),
    slipsTable(value),
    doubtedFeedsTable(value, value.series.animals),
    decisionsTable(decisions, value.settings.zone),
  ]);
  const sections: Section[] = [
    summarySection(analysis, seasons.compared),
    section("Animals", [animalsTable(value, animals), ...groupTables(seasons)]),
    section("Growth", [growthTable(animals), phaseTable(seasons), ...gainCharts(value)]),
    milestonesSection(seasons),
    section("Feeding", [feedingTable(animals), conversionTable(value, animals)]),
    section("Health events", [healthEventsTable(animals)]),
    flagsSection(value),
    comparisonSection(seasons, value.settings.zone),
    records,
    {
      ...methodsSection(analysis),
      sections: [section("Citations", [list(citations)])],
    },
    limitsSection(),
    dictionarySection(input.dictionary, input.spellings),
  ];
  const standingOf = (id: string) => {
    const level = input.answer.levels.find((l) => l.animalId === id);
    if (level === undefined) return null;
    return { level, shift: input.answer.shift?.animals.find((s) => s.animalId === id) ?? null };
  };
  const pages = animals.map((animal) => ({
    animalId: animal.animalId,
    title: animalLabel(animal),
    ...animalPage(value, animal, standingOf(animal.animalId)),
  }));
  const people =
    input.peopleLeftOut === null ? "" : ` ${noticeText(input.peopleLeftOut, screenWording())}`;
  return {
    title: value.title,
    date: input.reportDate,
    foot:
      `gramline ${input.version}; report of ${formatDate(input.reportDate)}; records up to ${formatDate(value.onDay)}.${people} ` +
      "No diagnosis and no prescription: the attending veterinarian, the permit conditions and local rules decide.",
    sections,
    citations,
    sheetsOnly: [
      flagLogTable(value, { name: "flag-log-all-seasons" }),
      ...tablesOfAnimals(pages, reportTables(sections)),
    ],
    animals: pages,
    records: [records],
  };
}

/** All tables of a report in order, those of nested sections included. */
export function reportTables(sections: readonly Section[]): readonly Table[] {
  return sections.flatMap((each) => [
    ...tablesAmong(each.blocks),
    ...reportTables(each.sections ?? []),
  ]);
}

function tablesAmong(blocks: readonly Block[]): Table[] {
  return blocks.flatMap((block) =>
    block.kind === "table" ? [block] : block.kind === "fold" ? tablesAmong(block.blocks) : [],
  );
}

function gainCharts(value: StudyAnalysis) {
  const inCare = value.animals.filter((a: AnimalAnalysis) => a.inCare);
  const species = [...new Set(inCare.map((a) => a.species))];
  if (species.length === 0) return [text("No animal is in care on the day looked at.")];
  return species.map((each) => chartBlock(gainsPicture(value, { species: each })));
}

function flagsSection(value: StudyAnalysis): Section {
  const flagged = value.animals.filter((a) => a.day !== null && a.day.raised.length > 0);
  const { episodes } = value.flags.value;
  return section("Flags and what was done", [
    flagsTable(value),
    { kind: "notices", notices: value.flags.notices },
    treatmentsTable(value, flagged),
    flagSeasonsTable(value),
    text(say("report-flag-all-seasons", { episodes: episodes.length })),
    flagLogTable(value, { of: ofLatestSeason(value) }),
  ]);
}

/**
 * The tables of the animals' pages, those of one name together with the animal
 * in front, so that every table shown anywhere is in the sheets too.
 */
function tablesOfAnimals(pages: readonly AnimalReport[], known: readonly Table[]): Table[] {
  const taken = new Set(known.map((each) => each.name));
  const found = new Map<string, { first: Table; rows: Cell[][] }>();
  for (const page of pages) {
    for (const each of reportTables(page.sections)) {
      if (taken.has(each.name)) continue;
      const entry = found.get(each.name) ?? { first: each, rows: [] };
      found.set(each.name, entry);
      for (const row of each.rows) entry.rows.push([page.title, ...row]);
    }
  }
  return [...found.values()].map(({ first, rows }) =>
    table(
      `animals-${first.name}`,
      say("report-table-of-pages", { name: first.name }),
      [{ title: "Animal" }, ...first.columns],
      rows,
    ),
  );
}
