import type { Result } from "../core/result.js";
import type { SeasonComparison } from "../seasons/compare-seasons.js";
import type { MilestoneOverview } from "../seasons/describe-milestones.js";
import type { ProtocolChange } from "../seasons/protocol-change.js";
import type { SeasonCurves } from "../seasons/season-curves.js";
import type { SeasonSummaries } from "../seasons/summarise-seasons.js";
import { formatDate } from "../units/format.js";
import { milestonePicture } from "./pictures/milestone-picture.js";
import { milestoneSeasonsPicture } from "./pictures/milestone-seasons-picture.js";
import { seasonCurvesPicture } from "./pictures/season-curves-picture.js";
import { seasonsPicture } from "./pictures/seasons-picture.js";
import { say } from "./say.js";
import { type Block, chartBlock, type Section, section, type Table, text } from "./section.js";
import { milestoneComparisonTable } from "./tables/milestone-comparison-table.js";
import { milestoneSeasonsTable, type SeasonMilestones } from "./tables/milestone-seasons-table.js";
import { milestonesTable } from "./tables/milestones-table.js";
import { phaseSummaryTable } from "./tables/phase-summary-table.js";
import { protocolChangeTable } from "./tables/protocol-change-table.js";
import { seasonChecksTable } from "./tables/season-checks-table.js";
import { seasonCurveDifferencesTable, seasonCurvesTable } from "./tables/season-curves-table.js";
import { seasonSlopesTable } from "./tables/season-slopes-table.js";
import {
  seasonComparisonTable,
  seasonPairsTable,
  seasonSummaryTable,
} from "./tables/season-tables.js";

/** What the seasons room found, computed once before the report is put together. */
export interface SeasonResults {
  /** The animals summed up by season, and the same animals by formula and by sex. */
  readonly summaries: Result<"summarise-seasons", SeasonSummaries>;
  readonly byFormula: Result<"summarise-seasons", SeasonSummaries>;
  readonly bySex: Result<"summarise-seasons", SeasonSummaries>;
  /** One entry a species with animals in at least two seasons. */
  readonly compared: readonly ComparedSpecies[];
  readonly changes: readonly ChangeInSeason[];
  /** One entry a species. */
  readonly milestones: readonly SpeciesMilestones[];
}

export interface ComparedSpecies {
  readonly comparison: Result<"compare-seasons", SeasonComparison>;
  readonly curves: Result<"season-curves", SeasonCurves>;
}

/** One change of protocol while animals of a species were in care. */
export interface ChangeInSeason {
  readonly species: string;
  readonly day: string;
  readonly what: string | null;
  readonly change: Result<"protocol-change", ProtocolChange>;
}

export interface SpeciesMilestones {
  readonly species: string;
  readonly all: Result<"describe-milestones", MilestoneOverview>;
  readonly bySeason: readonly SeasonMilestones[];
}

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
export function comparisonSection(seasons: SeasonResults): Section {
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
      .map(({ comparison, curves }) =>
        section(comparison.value.species, [
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
