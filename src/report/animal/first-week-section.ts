import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Bounds } from "../../rates/bounds.js";
import type { Sign } from "../../series/signs/sign.js";
import { formatNumber, localText, screenWording } from "../../units/format.js";
import { formatInstant } from "../../units/format-date.js";
import { say } from "../section/say.js";
import { list, type Section, section, type Table, table } from "../section/section.js";
import { signText } from "../section/sign-text.js";
import { withTidy } from "../section/tidy-table.js";

/**
 * The first week of a newcomer on one screen: hours since admission, mass against
 * admission, what was measured and seen, what went in and stayed in, what the written
 * examination lacks, and what is expected with where that is from. Nothing where the
 * animal is no newcomer.
 */
export function firstWeekSections(animal: AnimalAnalysis, zone: string): Section[] {
  const week = animal.firstWeek;
  if (week === null) return [];
  const clock = (at: number) => formatInstant(at, zone);
  const last = week.masses.at(-1);
  const hours = (h: number | null) => say("first-week-after", { hours: h });
  return [
    section("First week", [
      list([
        say("first-week-hours", { hours: week.hours, admitted: week.admittedAt }, zone),
        last === undefined
          ? say("hand-over-no-mass")
          : say(
              "first-week-change",
              { now: last.massG, at: last.at, pct: last.changePct, n: week.masses.length },
              zone,
            ),
        say("first-week-first-urine", { when: hours(week.firstUrineH) }),
        say("first-week-first-stool", { when: hours(week.firstStoolH) }),
        say("first-week-intake", {
          feeds: week.feeds,
          eaten: boundsText(week.intake.eatenG),
          kept: boundsText(week.intake.keptG),
          times: week.intake.times,
        }),
        week.fluids.length === 0
          ? say("first-week-no-fluids")
          : say("first-week-fluids", { n: week.fluids.length }),
        ...week.fluids.map((s) => `${clock(s.at)}: ${s.written}`),
        week.missing.length === 0
          ? say("first-week-exam-whole")
          : say("first-week-exam-missing", { missing: week.missing }),
      ]),
      firstWeekTable(week, zone),
      list(week.expectations.map((n) => noticeText(n, screenWording(zone)))),
    ]),
  ];
}

type FirstWeek = AnimalAnalysis["firstWeek"];

/** What was written of each kind of sign in the first week. */
function firstWeekTable(week: NonNullable<FirstWeek>, zone: string): Table {
  const shown = table(
    "first-week",
    say("first-week-signs"),
    [
      { title: "What" },
      { title: "Written", align: "number" },
      { title: "First" },
      { title: "Last" },
      { title: "When" },
    ],
    week.signs.map((s) => [
      s.kind,
      s.times,
      s.first === null ? "–" : signText(s.first),
      s.last === null ? "–" : signText(s.last),
      s.last === null ? "–" : formatInstant(s.last.at, zone),
    ]),
    "Nothing was written.",
  );
  const measure = (s: Sign | null) => s?.measure?.low ?? null;
  return withTidy(
    shown,
    [
      { title: "What" },
      { title: "Written", align: "number" },
      { title: "Unit" },
      { title: "First, measured" },
      { title: "First, read as" },
      { title: "Last, measured" },
      { title: "Last, read as" },
      { title: "When" },
    ],
    week.signs.map((s) => [
      s.kind,
      s.times,
      s.last?.measure?.unit ?? s.first?.measure?.unit ?? null,
      measure(s.first),
      s.first === null ? null : signText(s.first),
      measure(s.last),
      s.last === null ? null : signText(s.last),
      s.last === null ? null : localText(s.last.at, zone),
    ]),
  );
}

/** "460 g", or "380 to 460 g". */
export function boundsText({ low, high, value }: Bounds): string {
  if (value !== null) return `${formatNumber(value)} g`;
  return high === null
    ? `at least ${formatNumber(low)} g`
    : `${formatNumber(low)} to ${formatNumber(high)} g`;
}
