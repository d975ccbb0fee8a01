import type { Result } from "../core/result.js";
import type { SeasonComparison } from "../seasons/compare-seasons.js";
import type { MilestoneOverview } from "../seasons/describe-milestones.js";
import type { ProtocolChange } from "../seasons/protocol-change.js";
import type { SeasonCurves } from "../seasons/season-curves.js";
import type { SeasonSummaries } from "../seasons/summarise-seasons.js";
import type { StudyWindow } from "../seasons/window-of-study.js";

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
  /** The ages compared, and whether they are the usual ones. */
  readonly window: StudyWindow;
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

/** The milestones of one season's animals. */
export interface SeasonMilestones {
  readonly season: string;
  readonly overview: Result<"describe-milestones", MilestoneOverview>;
}
