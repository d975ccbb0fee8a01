import type { ChangeOfGain } from "../../analysis/change-of-gain.js";
import type { RivalExplanations } from "../../analysis/explanations/explanation.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Measured } from "../../core/measured.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { formatDate, formatDays } from "../../units/format-date.js";
import { formatMeasured } from "../../units/format-measured.js";
import { list, type Section, section } from "../section/section.js";

/** Since when an animal gains more slowly: the day with its interval, and the gain before and since. */
export function changeOfGainSection(
  analysis: StudyAnalysis,
  result: Result<"change-of-gain", ChangeOfGain>,
  why: RivalExplanations,
): Section {
  const { value } = result;
  const wording = screenWording(analysis.settings.zone);
  const line = (name: string, m: Measured) =>
    m.value === null ? [] : [`${name}: ${formatMeasured(m)}.`];
  return section("The change of gain", [
    list([
      ...value.sentences.map((s) => noticeText(s, wording)),
      ...line(`Gain in the fortnight up to ${formatDate(why.from)}`, why.quantities.gainBefore),
      ...line(`Gain from ${formatDays(why.from, why.to)}`, why.quantities.gain),
      ...line("Missing over these days", why.quantities.missing),
    ]),
  ]);
}
