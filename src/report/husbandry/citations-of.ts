import type { SeasonResults } from "../../analysis/season-answers.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Result } from "../../core/result.js";

/** What the methods of a report rest on, each work once, in alphabetical order. */
export function citationsOf(
  analysis: Result<"analyse", StudyAnalysis>,
  seasons: SeasonResults,
): readonly string[] {
  const { value } = analysis;
  const results: readonly Pick<Result<string, unknown>, "method">[] = [
    analysis,
    value.flags,
    ...value.animals.flatMap((a) => [a.intake, a.conversion, ...a.curves.map((c) => c.fit)]),
    seasons.summaries,
    ...seasons.compared.flatMap((each) => [each.comparison, each.curves]),
    ...seasons.changes.map((each) => each.change),
    ...seasons.milestones.map((each) => each.all),
  ];
  return [...new Set(results.flatMap((r) => r.method.citations))].sort();
}
