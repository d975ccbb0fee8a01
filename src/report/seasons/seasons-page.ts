import type { SeasonsAnswer } from "../../analysis/ask-seasons.js";
import type { Chart } from "../../charts/chart.js";
import { rowsNotUsed } from "../records/rows-not-used.js";
import { say } from "../section/say.js";
import { type Block, fold } from "../section/section.js";
import { milestoneComparisonTable, milestoneGroupsTable } from "./milestone-comparison-table.js";
import { milestonePicture } from "./milestone-picture.js";
import { milestonesTable } from "./milestones-table.js";
import { phaseSummaryTable } from "./phase-summary-table.js";
import { protocolChangeTable } from "./protocol-change-table.js";
import { seasonChecksTable } from "./season-checks-table.js";
import { seasonCurvesPicture } from "./season-curves-picture.js";
import { seasonCurveDifferencesTable, seasonCurvesTable } from "./season-curves-table.js";
import { seasonAnimalsPicture, seasonLead } from "./season-lead.js";
import { seasonSlopesTable } from "./season-slopes-table.js";
import { seasonComparisonTable, seasonPairsTable, seasonSummaryTable } from "./season-tables.js";
import { seasonsPicture } from "./seasons-picture.js";

type Part = readonly (Block | Chart)[];

/** The parts of the page about seasons, in reading order; each can be shown by itself. */
export interface SeasonsPage {
  /** The season asked about against the earlier ones, and every animal by season. */
  readonly answer: Part;
  readonly records: Part;
  readonly inWords: Part;
  readonly summary: Part;
  readonly phases: Part;
  /** The animals by formula, and by sex. */
  readonly groups: Part;
  readonly comparison: Part;
  readonly picture: Part;
  readonly pairs: Part;
  readonly checks: Part;
  readonly slopes: Part;
  readonly curves: Part;
  readonly curveDifferences: Part;
  /** Empty where no day of a change was named. */
  readonly change: Part;
  readonly milestones: Part;
  readonly milestoneComparison: Part;
  /** Picture and sentences of each milestone, by its name. */
  readonly milestone: Readonly<Record<string, Part>>;
}

/**
 * The seasons as parts to show.
 *
 * @example seasonsPage((await askSeasons(study, { species: "sea otter" })).value).inWords.length // 1
 */
export function seasonsPage(answer: SeasonsAnswer): SeasonsPage {
  const { species, comparison, curves, milestones, summaries } = answer;
  const analysis = answer.analysis.value;
  const about = answer.about === null ? {} : { season: answer.about };
  const sentences = (notices: typeof comparison.value.sentences): Block => ({
    kind: "notices",
    notices,
  });
  return {
    answer: [
      seasonLead(comparison, answer.window, analysis.settings.zone),
      seasonAnimalsPicture(comparison, analysis.animals),
    ],
    records: [rowsNotUsed(analysis)],
    inWords: [
      fold(
        say("season-fold-words"),
        [sentences(comparison.value.sentences)],
        say("season-fold-words-about"),
      ),
    ],
    summary: [seasonSummaryTable(summaries, { species })],
    phases: [phaseSummaryTable(summaries, { species })],
    groups: [answer.byFormula, answer.bySex].map((by) => seasonSummaryTable(by, { species })),
    comparison: [fold(say("season-fold-numbers"), [seasonComparisonTable(comparison)])],
    picture: [seasonsPicture(comparison)],
    pairs: [fold(say("season-fold-pairs"), [seasonPairsTable(comparison)])],
    checks: [fold(say("season-fold-checks"), [seasonChecksTable(comparison)])],
    slopes: [fold(say("season-fold-slopes"), [seasonSlopesTable(comparison)])],
    curves: [seasonCurvesPicture(curves, about), seasonCurvesTable(curves)],
    curveDifferences: [
      seasonCurveDifferencesTable(curves, about),
      fold(say("season-fold-words"), [sentences(curves.value.sentences)]),
    ],
    change:
      answer.change === null
        ? []
        : [protocolChangeTable(answer.change), sentences(answer.change.value.sentences)],
    milestones: [milestonesTable(milestones)],
    milestoneComparison: [
      fold(say("season-fold-milestones"), [
        milestoneComparisonTable(milestones),
        milestoneGroupsTable(milestones),
      ]),
    ],
    milestone: Object.fromEntries(
      milestones.value.milestones.map((one) => [
        one.milestone,
        [milestonePicture(one), fold(say("season-fold-words"), [sentences(one.sentences)])],
      ]),
    ),
  };
}
