import type { ExpectedWeek } from "../../analysis/expected-week.js";
import type { RivalExplanations } from "../../analysis/explanations/explanation.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { type Notice, notice } from "../../core/notice.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { list, type Section, section } from "../section/section.js";
import { explanationsTable } from "./explanations-table.js";

/** What was found about one animal, as handed to {@link inShortSection}. */
export interface FoundInShort {
  readonly explanations: Result<"rival-explanations", RivalExplanations>;
  readonly week: Result<"expected-week", ExpectedWeek>;
}

/** Dangers of the day, then what the table of rival explanations says in short, then the week ahead. */
export function inShortSection(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: FoundInShort,
): Section {
  const wording = screenWording(analysis.settings.zone);
  const danger = (animal.day?.raised ?? []).filter((s) => s.class === "danger");
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
    ...found.explanations.value.inShort,
    weekInShort(found.week.value),
  ];
  return section("In short", [
    list(lines.map((n) => noticeText(n, wording))),
    explanationsTable(analysis, found.explanations),
  ]);
}

function weekInShort(week: ExpectedWeek): Notice {
  const end = week.days.at(-1);
  if (end === undefined) return week.refused!;
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
