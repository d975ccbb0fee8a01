import type { SeasonResults } from "../../analysis/season-answers.js";
import { formatDate } from "../../units/format-date.js";
import { say } from "../section/say.js";
import {
  type Block,
  chartBlock,
  type Section,
  section,
  type Table,
  text,
} from "../section/section.js";
import { milestoneComparisonTable } from "./milestone-comparison-table.js";
import { milestonePicture } from "./milestone-picture.js";
import { milestoneSeasonsPicture } from "./milestone-seasons-picture.js";
import { milestoneSeasonsTable } from "./milestone-seasons-table.js";
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

/** The groups in numbers, for the section about the animals. */
export function groupTables(seasons: SeasonResults): Table[] {
  return [seasons.summaries, seasons.byFormula, seasons.bySex].map((each) =>
    seasonSummaryTable(each),
  );
}

/** Gain, intake and conversion by season and phase. */
export function phaseTable(seasons: SeasonResults): Table {
  return phaseSummaryTable(seasons.summaries);
}

/** Milestones of each species: all seasons together, then season by season. */
export function milestonesSection(seasons: SeasonResults): Section {
  return section("Milestones", [], {
    sections: seasons.milestones.map(({ species, all, bySeason }) => {
      const { milestones } = all.value;
      if (milestones.length === 0) {
        return section(species, [text(say("report-milestones-none", { species }))]);
      }
      const blocks: Block[] = [
        milestonesTable(all),
        milestoneComparisonTable(all),
        chartBlock(milestoneSeasonsPicture(species, bySeason)),
        milestoneSeasonsTable(species, bySeason),
        ...milestones.flatMap((m): Block[] => [
          chartBlock(milestonePicture(m)),
          { kind: "notices", notices: m.sentences },
        ]),
      ];
      return section(species, blocks);
    }),
  });
}

/** Seasons compared: the answer in words, the decision's numbers, and where the curves part. */
export function comparisonSection(seasons: SeasonResults, zone: string): Section {
  const heading = "Comparison of seasons";
  const changes = seasons.changes.map(({ species, day, what, change }) =>
    section(say("report-change", { species, day: formatDate(day) }), [
      ...(what === null ? [] : [text(what)]),
      { kind: "notices", notices: change.value.sentences },
      protocolChangeTable(change),
    ]),
  );
  if (seasons.compared.length === 0) {
    return section(heading, [text(say("report-one-season"))], { sections: changes });
  }
  return section(heading, [], {
    sections: seasons.compared
      .map(({ comparison, curves, window }) =>
        section(comparison.value.species, [
          seasonLead(comparison, window, zone),
          chartBlock(seasonAnimalsPicture(comparison)),
          { kind: "notices", notices: comparison.value.sentences },
          chartBlock(seasonsPicture(comparison)),
          seasonComparisonTable(comparison),
          seasonPairsTable(comparison),
          seasonChecksTable(comparison),
          seasonSlopesTable(comparison),
          ...(curves.value.curves.length === 0 ? [] : [chartBlock(seasonCurvesPicture(curves))]),
          seasonCurvesTable(curves),
          seasonCurveDifferencesTable(curves),
          { kind: "notices", notices: curves.value.sentences },
        ]),
      )
      .concat(changes),
  });
}
