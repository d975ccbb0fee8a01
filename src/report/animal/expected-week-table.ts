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
    `${animalId}: what a single weighing, dry and before a meal, should show. (a) it goes on as in its last 7 days; (b) it gains from today as its contemporaries do.`,
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

/** How the expected week came about, and how often such limits held. */
export function expectedWeekSection(
  analysis: StudyAnalysis,
  result: Result<"expected-week", ExpectedWeek>,
): Section {
  const { value } = result;
  const wording = screenWording(analysis.settings.zone);
  const held = (
    [
      ["(a)", value.held.ownCourse],
      [
        "(b), on days without illness or treatment",
        value.asTheOthers === null ? null : value.held.asTheOthers,
      ],
    ] as const
  ).flatMap(([scenario, h]) =>
    h === null
      ? []
      : [
          notice("week-held", "info", {
            scenario,
            ahead: h.ahead,
            share80: 100 * h.share80,
            share95: 100 * h.share95,
            forecasts: h.forecasts,
            animals: h.animals,
          }),
        ],
  );
  const how =
    value.refused !== null
      ? []
      : [
          notice("week-how", "info", {
            animal: value.animalId,
            mass: value.lastMassG,
            day: value.lastDay,
            level: value.level.value,
            gain: value.ownCourse.gain.value,
            se: value.ownCourse.gain.se ?? null,
            others: value.asTheOthers?.gain.value ?? null,
            n: value.asTheOthers?.n ?? null,
          }),
        ];
  return section("The next seven days", [
    list([...how, ...result.notices, ...held].map((n) => noticeText(n, wording))),
  ]);
}
