import type { ReportAnswer } from "../../analysis/ask-report.js";
import type { Chart } from "../../charts/chart.js";
import { curvesTable } from "../animal/curves-table.js";
import { growthCurvePicture } from "../animal/growth-curve-picture.js";
import { animalsTable } from "../day/animals-table.js";
import { feedingTable } from "../feeding/feeding-table.js";
import { rowsNotUsed } from "../records/rows-not-used.js";
import {
  milestoneComparisonTable,
  milestoneGroupsTable,
} from "../seasons/milestone-comparison-table.js";
import { milestonePicture } from "../seasons/milestone-picture.js";
import { milestonesTable } from "../seasons/milestones-table.js";
import { phaseSummaryTable } from "../seasons/phase-summary-table.js";
import { seasonChecksTable } from "../seasons/season-checks-table.js";
import { seasonCurvesPicture } from "../seasons/season-curves-picture.js";
import { seasonCurvesTable } from "../seasons/season-curves-table.js";
import { seasonAnimalsPicture, seasonLead } from "../seasons/season-lead.js";
import { seasonMassesPicture } from "../seasons/season-masses-picture.js";
import { seasonSlopesTable } from "../seasons/season-slopes-table.js";
import {
  seasonComparisonTable,
  seasonPairsTable,
  seasonSummaryTable,
} from "../seasons/season-tables.js";
import { seasonsPicture } from "../seasons/seasons-picture.js";
import { say } from "../section/say.js";
import { type Block, fold, type Section } from "../section/section.js";
import { withNames } from "../section/with-names.js";
import { dietsFedTable } from "./diets-fed-table.js";
import { feedingByAgeTable } from "./feeding-by-age-table.js";
import { growthTable } from "./growth-table.js";
import { healthEventsTable } from "./health-events-table.js";
import { methodsSection } from "./methods-section.js";
import { outcomesTables } from "./outcomes-tables.js";
import { placesTable } from "./places-table.js";

type Part = readonly (Section | Block | Chart)[];

/** The parts of the report of one season, in reading order; each can be shown by itself. */
export interface SeasonReportPage {
  /** The season against the earlier ones, one answer a species that can be compared. */
  readonly answer: Part;
  readonly records: Part;
  readonly animals: Part;
  /** Masses of the season's animals, one picture a species; then their growth. */
  readonly masses: Part;
  readonly growth: Part;
  /** Empty where no example was named. */
  readonly example: Part;
  /** What was fed, protocol and rhythm by age; then each animal. */
  readonly feeding: Part;
  readonly housing: Part;
  readonly health: Part;
  readonly summaries: Part;
  readonly phases: Part;
  /** One entry a species with animals in at least two seasons, in order of name. */
  readonly comparisons: Part;
  readonly comparisonInWords: Part;
  readonly comparisonDetails: Part;
  readonly curves: Part;
  readonly milestones: Part;
  readonly milestonePictures: Part;
  readonly methods: Part;
}

/**
 * The report of one season as parts to show; without a season, of all animals.
 *
 * @example seasonReportPage((await askReport(study, { season: "2023" })).value).animals.length // 1
 */
export function seasonReportPage(answer: ReportAnswer): SeasonReportPage {
  const { analysis: result, season, seasons, example } = answer;
  const analysis = result.value;
  const { species } = analysis.settings;
  const animals = analysis.animals.filter((a) => season === null || a.season === season);
  const about = season === null ? {} : { season };
  const { summaries, compared, milestones } = seasons;
  const sentences = (notices: (typeof compared)[number]["comparison"]["notices"]): Block => ({
    kind: "notices",
    notices,
  });
  return withNames(
    {
      answer: seasons.compared.flatMap(({ comparison, window }) => [
        seasonLead(comparison, window, analysis.settings.zone),
        seasonAnimalsPicture(comparison, analysis.animals),
      ]),
      records: [rowsNotUsed(analysis)],
      animals: [animalsTable(analysis, animals)],
      masses:
        season === null
          ? []
          : species.map((each) => seasonMassesPicture(analysis, { species: each, season })),
      growth: [growthTable(animals)],
      example: example === null ? [] : [growthCurvePicture(example), curvesTable(example)],
      feeding: [
        dietsFedTable(answer.diets),
        feedingByAgeTable(answer.feeding),
        feedingTable(animals),
      ],
      housing: [placesTable(answer.places)],
      health: [...outcomesTables(answer.outcomes), healthEventsTable(animals)],
      summaries: species.map((each) => seasonSummaryTable(summaries, { species: each })),
      phases: species.map((each) => phaseSummaryTable(summaries, { species: each })),
      comparisons: compared.flatMap(({ comparison }) => [
        seasonsPicture(comparison),
        fold(say("season-fold-numbers"), [seasonComparisonTable(comparison)]),
      ]),
      comparisonInWords: compared.map(({ comparison }) =>
        fold(
          say("season-fold-words"),
          [sentences(comparison.value.sentences)],
          say("season-fold-words-about"),
        ),
      ),
      comparisonDetails: compared.flatMap(({ comparison }) => [
        fold(say("season-fold-pairs"), [seasonPairsTable(comparison)]),
        fold(say("season-fold-checks"), [seasonChecksTable(comparison)]),
        fold(say("season-fold-slopes"), [seasonSlopesTable(comparison)]),
      ]),
      curves: compared.flatMap(({ curves }) => [
        seasonCurvesPicture(curves, about),
        seasonCurvesTable(curves),
      ]),
      milestones: milestones.flatMap(({ all }) => [
        milestonesTable(all),
        fold(say("season-fold-milestones"), [
          milestoneComparisonTable(all),
          milestoneGroupsTable(all),
        ]),
      ]),
      milestonePictures: milestones.flatMap(({ all }) =>
        all.value.milestones.flatMap((one) => [
          milestonePicture(one),
          fold(say("season-fold-words"), [sentences(one.sentences)]),
        ]),
      ),
      methods: [methodsSection(result)],
    },
    analysis,
  );
}
