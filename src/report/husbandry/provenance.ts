import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Result } from "../../core/result.js";
import type { Study } from "../../records/study.js";
import type { StudyReport } from "./study-report.js";

export interface ProvenanceSettings {
  readonly version: string;
  readonly date: string;
  readonly seed: number;
  readonly ages: string | null;
  readonly withoutPeople: boolean;
}

/**
 * Where the numbers of a report come from: version, files with checksums, seed,
 * options, rows in, used and set aside, decisions about suspected slips.
 * Whoever has the files and this can make the same report again.
 */
export function provenance(
  report: StudyReport,
  analysis: Result<"analyse", StudyAnalysis>,
  study: Study,
  settings: ProvenanceSettings,
): object {
  const { records, settings: studySettings, onDay } = analysis.value;
  return {
    report: report.title,
    reportDate: settings.date,
    madeBy: { name: "gramline", version: settings.version },
    recordsUpTo: onDay,
    inputs: study.inputs.map((each) => ({ ...each })),
    rows: records.counts.map((each) => ({ ...each })),
    studySettings,
    seed: settings.seed,
    options: { ...analysis.method.options, comparisonAges: settings.ages },
    citations: report.citations,
    peopleLeftOut: settings.withoutPeople,
    decisions: (study.decisions ?? []).map((each) =>
      settings.withoutPeople ? { ...each, decidedBy: "left out", why: "left out" } : { ...each },
    ),
    acknowledgements: (study.acknowledgements ?? []).map((each) => ({ ...each })),
    ...(study.answers === undefined ? {} : { answers: study.answers.map((each) => ({ ...each })) }),
    suspectedSlipsNotDecided: records.slips.length,
  };
}
