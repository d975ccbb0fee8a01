import type { ExpectedMass, ExpectedWeek } from "../../analysis/expected-week.js";
import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { notice } from "../../core/notice.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { formatNumber } from "../../units/format-number.js";
import { type Cell, list, type Section, section, type Table, table } from "../section/section.js";

/** Expected mass of each of the next days with its limits, under both scenarios. */
export function expectedWeekTable(result: Result<"expected-week", ExpectedWeek>): Table {
  const { days, animalId, asTheOthers } = result.value;
  const range = (low: number, high: number) => `${formatNumber(low)} to ${formatNumber(high)}`;
  const cells = (m: ExpectedMass | null): Cell[] =>
    m === null
      ? [null, "–", "–"]
      : [m.massG, range(m.lower80G, m.upper80G), range(m.lower95G, m.upper95G)];
  const three = (name: string) => [
    { title: `${name} expected`, unit: "g", align: "number" as const },
    { title: `${name} 80 %`, unit: "g" },
    { title: `${name} 95 %`, unit: "g" },
  ];
  return table(
    "expected-week",
    `${animalId}: what a single weighing, dry and before a meal, should show. (a) it goes on as it has of late; (b) it gains from its last weighing on as any other of its group.`,
    [{ title: "Day" }, ...three("(a)"), ...(asTheOthers === null ? [] : three("(b)"))],
    days.map((d) => [
      d.feedingDay,
      ...cells(d.ownCourse),
      ...(asTheOthers === null ? [] : cells(d.asTheOthers)),
    ]),
    result.value.refused === null
      ? "Nothing expected."
      : noticeText(result.value.refused, screenWording()),
  );
}

/** How the expected week came about. */
export function expectedWeekSection(
  analysis: StudyAnalysis,
  { value, notices }: Result<"expected-week", ExpectedWeek>,
): Section {
  const wording = screenWording(analysis.settings.zone);
  const how =
    value.refused !== null
      ? []
      : [
          notice("week-how", "info", {
            animal: value.animalId,
            mass: value.lastMassG,
            day: value.lastDay,
            level: value.level.value,
            se: value.level.se ?? null,
            gain: value.ownCourse.gain.value,
            theirs: value.asTheOthers?.gain.value ?? null,
            ...value.restsOn,
          }),
        ];
  return section("The next seven days", [
    list([...how, ...notices].map((n) => noticeText(n, wording))),
  ]);
}
