import type { StudyAnalysis } from "../analysis/study-analysis.js";
import { noticeText } from "../core/catalogue.js";
import { screenWording } from "../units/format.js";
import { libraryVersion } from "./version.js";

/** What is wrong with the day itself, said before anything else on every page. */
export function firstLines(analysis: StudyAnalysis): string[] {
  const wording = screenWording(analysis.settings.zone);
  return analysis.records.aboutDay.map((n) => noticeText(n, wording));
}

/** The line under every page of the day; up to when the records go stands in the page's first line. */
export function footOf(): string {
  return `gramline ${libraryVersion()}. No diagnosis: the attending veterinarian decides.`;
}
