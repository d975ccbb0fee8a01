import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { say } from "../section/say.js";
import { type TextBlock, text } from "../section/section.js";

/** One line about the rows that could not be used, for every page but that of the records, to which it leads. */
export function rowsNotUsed(analysis: StudyAnalysis, href?: string): TextBlock {
  const { counts, setAside } = analysis.records;
  const of = counts.reduce((sum, c) => sum + c.rowsIn, 0);
  const words = say("page-rows-not-used", { n: setAside.length, of, linked: href !== undefined });
  return text(words, href);
}
