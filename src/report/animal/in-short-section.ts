import type { ChangeOfGain } from "../../analysis/change-of-gain.js";
import type { ExpectedWeek } from "../../analysis/expected-week.js";
import type { IntakeAtTheMargin } from "../../analysis/intake-at-the-margin.js";
import type { RealOrNot } from "../../analysis/real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { type Notice, notice } from "../../core/notice.js";
import type { Result } from "../../core/result.js";
import type { MissingGrams } from "../../flags/missing-grams.js";
import { screenWording } from "../../units/format.js";
import { list, type Section, section } from "../section/section.js";

/** What was found about one animal, as handed to {@link inShortSection}. */
export interface FoundInShort {
  readonly real: Result<"real-or-not", RealOrNot>;
  readonly change: Result<"change-of-gain", ChangeOfGain>;
  readonly missing: Result<"missing-grams", MissingGrams>;
  readonly margin: Result<"intake-at-the-margin", IntakeAtTheMargin>;
  readonly week: Result<"expected-week", ExpectedWeek>;
}

/** The answers of the page in a line each, dangers of the day first. */
export function inShortSection(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: FoundInShort,
): Section {
  const wording = screenWording(analysis.settings.zone);
  const danger = (animal.day?.raised ?? []).filter((s) => s.class === "danger");
  const change = found.change.value.sentences[0];
  const failed = found.real.value.answers
    .flatMap((a) => a.sentences)
    .filter((s) => s.code === "real-scale-failed" || s.code === "real-scales-disagree");
  const lines: Notice[] = [
    ...(danger.length === 0
      ? []
      : [
          notice("decisive-now", "problem", {
            animal: animal.animalId,
            signals: danger.map((s) => s.kind),
          }),
        ]),
    ...danger.map((s) => s.sentence),
    found.real.value.conclusion,
    ...failed,
    ...(change === undefined ? [] : [change]),
    missingInShort(found),
    weekInShort(found.week.value),
  ];
  return section("In short", [list(lines.map((n) => noticeText(n, wording)))]);
}

function missingInShort({ missing, margin, real }: FoundInShort): Notice {
  const { value: v } = missing;
  const scale = real.value.answers.some((a) => a.question === "scale" && a.verdict === "found");
  if (scale) return notice("real-scale-taints", "caution");
  const all = v.missing.value;
  if (all === null) return v.missing.why ?? notice("short-missing-none", "info");
  const parameters = {
    days: v.days,
    missing: all,
    low: v.missing.interval?.lower ?? null,
    high: v.missing.interval?.upper ?? null,
    part: v.fromIntake.value,
    rest: v.rest.value,
    partMargin: margin.value.fromIntake.value,
    restMargin: margin.value.rest.value,
    n: v.contemporaries.length,
  };
  if ((v.missing.interval?.lower ?? 0) <= 0)
    return notice("short-missing-nothing", "info", parameters);
  return notice("short-missing", "info", parameters);
}

function weekInShort(week: ExpectedWeek): Notice {
  const end = week.days.at(-1);
  if (week.refused !== null || end === undefined) {
    return (
      week.refused ?? notice("week-few-weighings", "caution", { animal: week.animalId, days: 7 })
    );
  }
  return notice("short-week", "info", {
    day: end.feedingDay,
    own: end.ownCourse.massG,
    low: end.ownCourse.lower95G,
    high: end.ownCourse.upper95G,
    others: end.asTheOthers?.massG ?? null,
    othersLow: end.asTheOthers?.lower95G ?? null,
    othersHigh: end.asTheOthers?.upper95G ?? null,
  });
}
