import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Happening } from "../../analysis/what-happened.js";
import type { CourseExpected, TimedMark } from "../../charts/animal-course.js";
import { animalCourseChart } from "../../charts/animal-course-chart.js";
import type { Chart } from "../../charts/chart.js";
import { asWritten } from "../../core/as-written.js";
import type { Sign } from "../../series/signs/sign.js";
import { feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { typeset } from "../../units/typeset.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { courseOthers } from "./course-others.js";
import type { SlowCourse } from "./slow-course.js";

export interface TimelineOptions {
  /** Only the last so many days. Default: all. */
  readonly days?: number;
  /** What stands behind a slow gain, drawn where it is. */
  readonly slow?: SlowCourse;
  /** Diets, batches, plans, moves and events (`whatHappened`), in rows of their own. */
  readonly happened?: readonly Happening[];
}

/** Kinds drawn as numbers in panels of their own, or too many to mark. */
const notMarked = new Set(["temperature", "groom", "swim", "length", "girth"]);
/** Twice a day, or seen in panels of their own. */
const notDrawn = new Set<Happening["kind"]>(["treatment", "seen", "batch begun"]);
/** Beyond so many days words beside the marks would cover each other. */
const wordedUpToD = 60;

/**
 * One animal's mass, gain, intake against its plan, temperature, what was seen
 * and given, and what changed around it, on one time axis, over what was expected
 * of it and what others weighed at its age; with what stands behind a slow gain,
 * where that is handed in.
 */
export function timelinePicture(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: TimelineOptions = {},
): Chart {
  const { zone } = analysis.settings;
  const span = animal.series.span ?? { from: 0, to: 0 };
  const to = span.to + dayMs / 2;
  // Before it came there is nothing to show.
  const came = span.from - dayMs / 2;
  const from = options.days === undefined ? came : Math.max(came, to - options.days * dayMs);
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
  const slow = options.slow;
  return animalCourseChart({
    name: animalLabel(animal),
    zone,
    from,
    to,
    masses: recent(animal.series.daily).map((d) => ({ at: d.at, massG: d.massG })),
    gainDays: analysis.gainDays,
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
        .filter((h) => !notDrawn.has(h.kind))
        .map((h): TimedMark => ({ at: h.at, kind: h.kind, words: h.words })),
      ...recent(animal.series.signs)
        .filter((s) => !notMarked.has(s.kind) && (s.state !== "none" || s.kind === "stool"))
        .map((s): TimedMark => ({ at: s.at, kind: s.kind, words: saidOf(s) })),
    ],
    kinds: [
      "event",
      "moved",
      "diet begun",
      "diet ended",
      "plan changed",
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
    others: courseOthers(animal, slow?.others ?? sameSpecies(analysis, animal), {
      from: Math.max(from, span.from),
      to: span.to,
      are: (n) => slow?.othersAre ?? say("course-others", { n }),
    }),
    expected: slow === undefined ? courseExpected(analysis, animal, from, to) : slow.expected,
    missing: slow?.missing ?? null,
    slopes: slow?.slopes ?? [],
    change: slow?.change ?? null,
    usualC: usualTemperature(animal),
  });
}

/** What was written with a sign; of stool and urine, which come with every feed, what was found in them. */
function saidOf(sign: Sign): string | null {
  const words =
    sign.kind === "stool" || sign.kind === "urine"
      ? sign.findings.join(", ")
      : asWritten(sign.written);
  return words === "" ? null : words;
}

/** Those that can be set beside it at the same age. */
const sameSpecies = (analysis: StudyAnalysis, animal: AnimalAnalysis) =>
  analysis.animals.filter(
    (a) => a !== animal && a.species === animal.species && a.series.age.usableForWeightForAge,
  );

/** The course that the watch expected of it three weeks ago; null where there is none. */
function courseExpected(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  from: number,
  until: number,
): CourseExpected | null {
  const { zone, feedingDayStartHour } = analysis.settings;
  const course = analysis.flags.value.courses.find((c) => c.animalId === animal.animalId);
  const seenFrom = course?.days[0]?.day;
  if (seenFrom === undefined) return null;
  const points = (course?.days ?? []).flatMap((d) => {
    const { from: begin, to } = feedingDaySpan(d.day, zone, feedingDayStartHour);
    const weighed = animal.series.daily.find((w) => w.feedingDay === d.day);
    const at = weighed?.at ?? (begin + to) / 2;
    return at < from || at > until ? [] : [{ at, value: d.massG, lower: d.lowG, upper: d.highG }];
  });
  if (points.length < 2) return null;
  // The year stands at the head of the page.
  const words = typeset(say("course-expected", { from: seenFrom }), seenFrom.slice(0, 4));
  return { points, words };
}

/** Between which temperatures nothing is raised that day; null where none was judged. */
function usualTemperature(animal: AnimalAnalysis): readonly [number, number] | null {
  const judged = [...(animal.day?.raised ?? []), ...(animal.day?.within ?? [])].find(
    (s) => s.kind === "temperature",
  );
  return judged?.kind === "temperature" ? [judged.evidence.lowC, judged.evidence.highC] : null;
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
