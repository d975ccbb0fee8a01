import type { ReportAnswer } from "../../analysis/ask-report.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Notice } from "../../core/notice.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { animalPage } from "../animal/animal-page.js";
import { flagLogTable, flagSeasonsTable, ofLatestSeason } from "../animal/flag-log-table.js";
import { growthCurvePicture } from "../animal/growth-curve-picture.js";
import { animalsTable } from "../day/animals-table.js";
import { conversionTable } from "../day/conversion-table.js";
import { flagsTable } from "../day/flags-table.js";
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
import { seasonMassesPicture } from "../seasons/season-masses-picture.js";
import {
  groupTables,
  milestoneDetails,
  milestonesSection,
  phaseTable,
  seasonDetails,
  seasonsSection,
} from "../seasons/season-sections.js";
import { seasonSummaryTable } from "../seasons/season-summary-table.js";
import { animalLabel } from "../section/animal-label.js";
import { withNamedAnimals } from "../section/animal-names.js";
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
import { withTidy } from "../section/tidy-table.js";
import { answersSection } from "./answers-section.js";
import { citationsOf } from "./citations-of.js";
import { dietsFedTable } from "./diets-fed-table.js";
import { feedingByAgeTable } from "./feeding-by-age-table.js";
import { growthTable } from "./growth-table.js";
import { healthEventsTable } from "./health-events-table.js";
import { limitsSection } from "./limits-section.js";
import { methodsSection } from "./methods-section.js";
import { outcomesTables } from "./outcomes-tables.js";
import { placesTable } from "./places-table.js";
import { treatmentsTable } from "./treatments-table.js";

export interface ReportInput {
  readonly answer: ReportAnswer;
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

/** The page of what was read, set aside, doubted and decided, beside the report. */
export const recordsHref = "records.html";

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
 * Puts the husbandry report of a study together: two pages of answers; growth,
 * feeding, housing, health and survival, milestones, seasons, flags and what was
 * done; methods and tables in an appendix; and the pages of the animals and of the
 * records.
 */
export function studyReport(input: ReportInput): StudyReport {
  const { analysis, seasons, decisions } = input.answer;
  const { value } = analysis;
  const { animals } = value;
  const citations = citationsOf(analysis, seasons);
  const unnamed: Section[] = [
    answersSection(input.answer, recordsHref),
    growthSection(input.answer),
    section("Feeding", [
      dietsFedTable(input.answer.diets),
      feedingByAgeTable(input.answer.feeding),
    ]),
    section("Housing", [placesTable(input.answer.places)]),
    section("Health and survival", [
      ...outcomesTables(input.answer.outcomes),
      {
        ...healthEventsTable(animals.filter((a) => a.inCare)),
        name: "health-events-in-care",
        whenEmpty: say("day-nobody"),
      },
    ]),
    milestonesSection(seasons),
    seasonsSection(seasons, value),
    flagsSection(value),
    appendix(input, citations),
  ];
  const named = <Part>(part: Part) => withNamedAnimals(part, animals);
  const sections = named(unnamed);
  const records = [
    section("Records", [
      recordsTable(value),
      setAsideTable(value),
      named(slipsTable(value)),
      named(doubtedFeedsTable(value, value.series.animals)),
      decisionsTable(decisions, value),
    ]),
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
    ...named(animalPage(value, animal, standingOf(animal.animalId))),
  }));
  const people =
    input.peopleLeftOut === null ? "" : ` ${noticeText(input.peopleLeftOut, screenWording())}`;
  return {
    title: value.title,
    date: input.reportDate,
    foot:
      `gramline ${input.version}; report of ${formatDate(input.reportDate)}.${people} ` +
      "No diagnosis and no prescription: the attending veterinarian, the permit conditions and local rules decide.",
    sections,
    citations,
    sheetsOnly: [
      flagLogTable(value, { name: "flag-log-all-seasons" }),
      ...reportTables(records),
      ...tablesOfAnimals(pages, reportTables([...sections, ...records])),
    ],
    animals: pages,
    records,
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

/** Who came, the masses of the latest season over the others, and one curve a species. */
function growthSection({ analysis, seasons, longest }: ReportInput["answer"]): Section {
  const { value } = analysis;
  const kinds = [...new Set(value.animals.map((a) => a.species))].sort();
  const pictures = kinds.flatMap((species): Block[] => {
    const season = lastSeason(value.animals.filter((a) => a.species === species));
    const own = longest.find((a) => a.species === species && a.curves.length > 0);
    return [
      ...(season === null ? [] : [chartBlock(seasonMassesPicture(value, { species, season }))]),
      ...(own === undefined
        ? []
        : [
            chartBlock(growthCurvePicture(own)),
            text(say("report-curve-drawn", { animal: animalLabel(own) })),
          ]),
    ];
  });
  const short = seasonSummaryTable(seasons.summaries, { short: true });
  return section("Growth", [{ ...short, name: "arrivals-and-gains" }, ...pictures]);
}

/** The season of the animal admitted last. */
function lastSeason(animals: readonly AnimalAnalysis[]): string | null {
  const dated = animals.filter((a) => a.season !== null);
  const admitted = (a: AnimalAnalysis) => a.series.animal.admittedAt ?? 0;
  return [...dated].sort((a, b) => admitted(b) - admitted(a))[0]?.season ?? null;
}

function flagsSection(value: StudyAnalysis): Section {
  const flagged = value.animals.filter((a) => a.day !== null && a.day.raised.length > 0);
  return section("Flags and what was done", [
    flagsTable(value),
    treatmentsTable(value, flagged),
    flagSeasonsTable(value),
  ]);
}

/** Methods, and the tables behind the pages before: for whoever wants to check a figure. */
function appendix({ answer }: ReportInput, citations: readonly string[]): Section {
  const { analysis, seasons } = answer;
  const { value } = analysis;
  const { animals } = value;
  const { episodes } = value.flags.value;
  return section("Appendix: methods and tables", [], {
    id: "appendix",
    sections: [
      methodsSection(analysis),
      section("Citations", [list(citations)]),
      section("Animals", [animalsTable(value, animals), ...groupTables(seasons)]),
      section("Growth of each animal", [growthTable(animals), phaseTable(seasons)]),
      section("Feeding of each animal", [feedingTable(animals), conversionTable(value, animals)]),
      section("Entries about health", [healthEventsTable(animals)]),
      milestoneDetails(seasons),
      seasonDetails(seasons),
      section("Log of flags", [
        { kind: "notices", notices: value.flags.notices },
        text(say("report-flag-all-seasons", { episodes: episodes.length })),
        flagLogTable(value, { of: ofLatestSeason(value) }),
      ]),
      limitsSection(),
    ],
  });
}

/**
 * The tables of the animals' pages, those of one name together with the animal
 * in front, so that every table shown anywhere is in the sheets too.
 */
function tablesOfAnimals(pages: readonly AnimalReport[], known: readonly Table[]): Table[] {
  const taken = new Set(known.map((each) => each.name));
  const found = new Map<string, { first: Table; rows: Cell[][]; tidy: Cell[][] }>();
  for (const page of pages) {
    for (const each of reportTables(page.sections)) {
      if (taken.has(each.name)) continue;
      const entry = found.get(each.name) ?? { first: each, rows: [], tidy: [] };
      found.set(each.name, entry);
      for (const row of each.rows) entry.rows.push([page.title, ...row]);
      for (const row of each.tidy?.rows ?? []) entry.tidy.push([page.title, ...row]);
    }
  }
  return [...found.values()].map(({ first, rows, tidy }) => {
    const all = table(
      `animals-${first.name}`,
      say("report-table-of-pages", { name: first.name }),
      [{ title: "Animal" }, ...first.columns],
      rows,
    );
    return first.tidy === undefined
      ? all
      : withTidy(all, [{ title: "Animal" }, ...first.tidy.columns], tidy);
  });
}
