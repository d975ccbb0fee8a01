import type { ChangeOfGain } from "../../analysis/change-of-gain.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Happening } from "../../analysis/what-happened.js";
import {
  type AnimalCourseData,
  animalCourseChart,
  type TimedMark,
} from "../../charts/animal-course-chart.js";
import type { Chart } from "../../charts/chart.js";
import { feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { formatDate, formatDays } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";

export interface TimelineOptions {
  /** Only the last so many days. Default: all. */
  readonly days?: number;
  /** Drawn as a band from the earliest to the latest day, with a line on the likeliest. */
  readonly change?: ChangeOfGain;
  /** Diets, batches, plans, moves and events (`whatHappened`), in rows of their own. */
  readonly happened?: readonly Happening[];
}

/** Kinds drawn as numbers in panels of their own, or too many to mark. */
const notMarked = new Set(["temperature", "groom", "swim", "length", "girth"]);
/** Beyond so many days words beside the marks would cover each other. */
const wordedUpToD = 60;

/**
 * One animal's mass, gain, intake against its plan, temperature, what was seen
 * and given, and what changed around it, on one time axis; the suspected change of
 * gain, where one is handed in, as a band and a line through all of it.
 */
export function timelinePicture(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: TimelineOptions = {},
): Chart {
  const { zone, feedingDayStartHour } = analysis.settings;
  const span = animal.series.span ?? { from: 0, to: 0 };
  const day = (d: string) => feedingDaySpan(d, zone, feedingDayStartHour);
  const to = span.to + dayMs / 2;
  const from = options.days === undefined ? span.from - dayMs / 2 : to - options.days * dayMs;
  const recent = <Row extends { readonly at: number }>(rows: readonly Row[]) =>
    rows.filter((row) => row.at >= from && row.at <= to);
  const fed = animal.intake.value
    .filter((d) => d.from >= from && d.complete && d.feeds > 0)
    .map((d) => {
      const { low, high, value } = d.eatenG;
      const range = value === null ? { lower: low, upper: high } : { lower: null, upper: null };
      return { at: (d.from + d.to) / 2, value, ...range };
    });
  const planned = fed.flatMap(({ at }) => {
    const value = plannedAt(animal, at);
    return value === null ? [] : [{ at, value }];
  });
  const change = options.change;
  const drawn: AnimalCourseData["change"] =
    change?.since == null || change.earliest === null || change.latest === null
      ? null
      : {
          at: day(change.since).from,
          earliest: day(change.earliest).from,
          latest: day(change.latest).to,
          words: `Dashed line through all panels: ${formatDate(change.since)}, since when it most likely gains more slowly${change.strength === "raised" ? "" : " (weak: no flag stands for it)"}; shaded: ${formatDays(change.earliest, change.latest)}, 90 % interval.`,
        };
  return animalCourseChart({
    name: animalLabel(animal),
    zone,
    from,
    to,
    masses: recent(animal.series.daily).map((d) => ({ at: d.at, massG: d.massG })),
    gains: recent(animal.gain.daily).flatMap((d) => {
      const { value, interval } = d.overWindow.gain;
      if (value === null) return [];
      return [
        {
          at: d.at,
          value,
          lower: interval?.lower ?? null,
          upper: interval?.upper ?? null,
        },
      ];
    }),
    intake: fed,
    planned,
    temperatures: recent(animal.series.signs).flatMap((s) =>
      s.kind === "temperature" && s.measure !== null ? [{ at: s.at, value: s.measure.low }] : [],
    ),
    marks: [
      ...recent(options.happened ?? [])
        .filter((h) => h.kind !== "treatment" && h.kind !== "seen")
        .map((h): TimedMark => ({ at: h.at, kind: h.kind, words: h.words })),
      ...recent(animal.series.signs)
        .filter((s) => !notMarked.has(s.kind) && (s.state !== "none" || s.kind === "stool"))
        .map((s): TimedMark => ({ at: s.at, kind: s.kind, words: s.row.valueText ?? s.row.notes })),
    ],
    kinds: [
      "event",
      "moved",
      "diet begun",
      "diet ended",
      "plan changed",
      "batch begun",
      "medication",
      "fluids",
      "exam",
      "vomit",
      "regurgitation",
      "bloat",
      "stool",
      "urine",
    ],
    worded:
      (to - from) / dayMs <= wordedUpToD ? ["event", "moved", "diet begun", "diet ended"] : [],
    change: drawn,
  });
}

/** Grams a day ordered at an instant; null where nothing is, or not for every day, or not in grams. */
function plannedAt(animal: AnimalAnalysis, at: number): number | null {
  const step = animal.series.orders.steps.find((s) => s.from <= at && (s.to === null || at < s.to));
  const lines = step?.inForce.lines ?? [];
  let sum = 0;
  for (const { gPerDay, daysWords } of lines) {
    if (gPerDay === null || daysWords !== null) return null;
    sum += gPerDay;
  }
  return lines.length === 0 ? null : sum;
}
