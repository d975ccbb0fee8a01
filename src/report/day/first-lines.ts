import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";

/**
 * The first lines of the board and of the change of shift: what is said of the day
 * itself, then what several animals share, before anything about one of them.
 */
export function firstLines(analysis: StudyAnalysis): string[] {
  const wording = screenWording(analysis.settings.zone);
  const shared = analysis.flags.notices.filter(
    (n) =>
      n.code === "shared-event" ||
      (n.level === "problem" && (n.code.startsWith("shared-") || n.code === "rival-scale-check")),
  );
  const { together, sharedCauses } = analysis.flags.value;
  return [
    ...analysis.records.aboutDay,
    ...shared,
    ...[...together, ...sharedCauses].map((each) => each.sentence),
  ].map((n) => noticeText(n, wording));
}
