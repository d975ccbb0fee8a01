import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { say } from "../section/say.js";
import { type TextBlock, text } from "../section/section.js";

/** One line about the rows that could not be used, for every page but that of the records. */
export function rowsNotUsed(analysis: StudyAnalysis): TextBlock {
  const { counts, setAside } = analysis.records;
  const of = counts.reduce((sum, c) => sum + c.rowsIn, 0);
  return text(say("page-rows-not-used", { n: setAside.length, of }));
}
