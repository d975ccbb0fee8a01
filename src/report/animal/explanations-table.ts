import type {
  RivalExplanation,
  RivalExplanations,
} from "../../analysis/explanations/explanation.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { type Table, table } from "../section/section.js";

const asked: Readonly<Record<RivalExplanation["rival"], string>> = {
  scale: "The scale reads wrongly",
  "weighing condition": "It was weighed wet or after a meal, and then no longer",
  swap: "These are another animal's numbers",
  "small but healthy": "It is small and keeps pace",
  "fed less than ordered": "It ate less than was ordered",
  "ordered too little": "Less was ordered for its size",
  "kept less": "What it ate came up again",
  "thin batch": "Batches were mixed thin",
  "converts poorly or loses": "It converts what it keeps poorly, or loses",
  "illness signs": "It shows signs of illness",
  "shared cause": "Something that touches several animals",
};

/** Every rival explanation of a slow gain, a line each, the leading ones first, with what speaks for and against it. */
export function explanationsTable(
  analysis: StudyAnalysis,
  result: Result<"rival-explanations", RivalExplanations>,
): Table {
  const { value } = result;
  const wording = screenWording(analysis.settings.zone);
  const words = (notices: RivalExplanation["speaksFor"]) =>
    notices.map((n) => noticeText(n, wording)).join(" ");
  return table(
    "rival-explanations",
    `Why? ${noticeText(value.headline, wording)} Against ${value.contemporaries.length} contemporaries over the same ${value.days} days. Nothing here is a diagnosis.`,
    [
      { title: "Explanation" },
      { title: "By the records" },
      { title: "Speaks for it" },
      { title: "Speaks against it" },
      { title: "Would tell" },
    ],
    value.rivals.map((r) => [
      asked[r.rival],
      r.verdict,
      words(r.speaksFor),
      words(r.speaksAgainst),
      words(r.ask),
    ]),
  );
}
