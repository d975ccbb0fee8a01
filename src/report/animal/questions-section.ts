import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Notice } from "../../core/notice.js";
import { screenWording } from "../../units/format.js";
import { list, type Section, section, text } from "../section/section.js";

/** Questions for the examination, put together from what was found. */
export function questionsSection(analysis: StudyAnalysis, questions: readonly Notice[]): Section {
  const wording = screenWording(analysis.settings.zone);
  return section("Questions for the examination", [
    text("Put together from the records of this animal. What is not asked here is not ruled out."),
    list(questions.map((q) => noticeText(q, wording))),
  ]);
}
