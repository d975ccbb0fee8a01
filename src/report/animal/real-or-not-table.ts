import type { RealAnswer, RealOrNot } from "../../analysis/real-answer.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { formatDays } from "../../units/format-date.js";
import { type Table, table } from "../section/section.js";

const asked: Readonly<Record<RealAnswer["question"], string>> = {
  scale: "Scale: does it read wrongly?",
  coat: "Coat: was it weighed wet?",
  meal: "Meal: was it weighed after a feed?",
  swap: "Swap: are these another animal's numbers?",
};

const answered: Readonly<Record<RealAnswer["verdict"], string>> = {
  found: "YES, found in the records",
  "not found": "no, by the records",
  "cannot be told": "cannot be told",
};

/** Scale, coat, meal and swap, a line each, answered from the records with numbers. */
export function realOrNotTable(
  analysis: StudyAnalysis,
  result: Result<"real-or-not", RealOrNot>,
): Table {
  const { value } = result;
  const wording = screenWording(analysis.settings.zone);
  return table(
    "real-or-not",
    `Is it real? The records of ${value.animalId}, ${formatDays(value.from, value.to)}. ${noticeText(value.conclusion, wording)} ${noticeText(value.repeatedLooks, wording)}`,
    [{ title: "Asked" }, { title: "Answer" }, { title: "What the records say" }],
    value.answers.map((a) => [
      asked[a.question],
      answered[a.verdict],
      a.sentences.map((s) => noticeText(s, wording)).join(" "),
    ]),
  );
}
