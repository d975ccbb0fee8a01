import type { SeasonResults } from "../../analysis/season-answers.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { formatDate } from "../../units/format-date.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";
import {
  type Block,
  chartBlock,
  type Section,
  section,
  type Table,
  text,
} from "../section/section.js";
import { ofSpecies } from "../section/tidy-table.js";
import { milestoneComparisonTable, milestoneGroupsTable } from "./milestone-comparison-table.js";
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

/** When milestones were reached, species by species; the looks behind them are in the appendix. */
export function milestonesSection(seasons: SeasonResults): Section {
  return section("Milestones", [], {
    sections: seasons.milestones.map(({ species, all, bySeason }) =>
      all.value.milestones.length === 0
        ? section(capital(species), [text(say("report-milestones-none", { species }))])
        : section(capital(species), [
            milestonesTable(all),
            chartBlock(milestoneSeasonsPicture(species, bySeason)),
          ]),
    ),
  });
}

/** The same season by season, and each milestone by itself. */
export function milestoneDetails(seasons: SeasonResults): Section {
  return section("Milestones in detail", [], {
    sections: seasons.milestones
      .filter(({ all }) => all.value.milestones.length > 0)
      .map(({ species, all, bySeason }) =>
        section(capital(species), [
          ofSpecies(species, milestoneComparisonTable(all)),
          ofSpecies(species, milestoneGroupsTable(all)),
          ofSpecies(species, milestoneSeasonsTable(species, bySeason)),
          ...all.value.milestones.flatMap((m): Block[] => [
            chartBlock(milestonePicture(m)),
            { kind: "notices", notices: m.sentences },
          ]),
        ]),
      ),
  });
}

/** Seasons compared: the answer in words, every animal by season, the mean curves. */
export function seasonsSection(
  seasons: SeasonResults,
  analysis: Pick<StudyAnalysis, "animals" | "settings">,
): Section {
  if (seasons.compared.length === 0) {
    return section("Seasons", [text(say("report-one-season"))]);
  }
  return section("Seasons", [], {
    sections: seasons.compared.map(({ comparison, curves, window }) =>
      section(capital(comparison.value.species), [
        seasonLead(comparison, window, analysis.settings.zone),
        chartBlock(seasonAnimalsPicture(comparison, analysis.animals)),
        ...(curves.value.curves.length === 0 ? [] : [chartBlock(seasonCurvesPicture(curves))]),
        text(say("report-season-detail")),
      ]),
    ),
  });
}

/** The decision's numbers, its checks, every pair of seasons, and changes of protocol. */
export function seasonDetails(seasons: SeasonResults): Section {
  const changes = seasons.changes.map(({ species, day, what, change }) =>
    section(say("report-change", { species, day: formatDate(day) }), [
      ...(what === null ? [] : [text(what)]),
      { kind: "notices", notices: change.value.sentences },
      protocolChangeTable(change),
    ]),
  );
  return section("Seasons in detail", [], {
    sections: seasons.compared
      .map(({ comparison, curves }) =>
        section(capital(comparison.value.species), [
          { kind: "notices", notices: comparison.value.sentences },
          chartBlock(seasonsPicture(comparison)),
          ...[
            seasonComparisonTable(comparison),
            seasonPairsTable(comparison),
            seasonChecksTable(comparison),
            seasonSlopesTable(comparison),
          ].map((each) => ofSpecies(comparison.value.species, each)),
          seasonCurvesTable(curves),
          seasonCurveDifferencesTable(curves),
          { kind: "notices", notices: curves.value.sentences },
        ]),
      )
      .concat(changes),
  });
}
