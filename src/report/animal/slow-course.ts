import type { SlowGainerAnswer } from "../../analysis/ask-slow-gainer.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type {
  CourseChange,
  CourseExpected,
  CourseMissing,
  CourseSlope,
} from "../../charts/animal-course.js";
import type { Measured } from "../../core/measured.js";
import { feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { formatDays } from "../../units/format-date.js";
import { formatInterval, formatMeasured } from "../../units/format-measured.js";
import { typeset } from "../../units/typeset.js";
import { say } from "../section/say.js";

/** What stands behind a slow gain, as the picture draws it: one window, one group, the page's own numbers. */
export interface SlowCourse {
  readonly others: readonly AnimalAnalysis[];
  readonly othersAre: string;
  readonly expected: CourseExpected | null;
  readonly missing: CourseMissing | null;
  readonly slopes: readonly CourseSlope[];
  readonly change: CourseChange | null;
}

type Found = Pick<SlowGainerAnswer, "change" | "explanations">;

/**
 * Expected is the line through the animal's own weighings of the window and, day
 * by day, its share of the missing grams that the page names: what lies between
 * the two at the end is that number.
 */
export function slowCourse(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: Found,
): SlowCourse {
  const { from, to, days, contemporaries, quantities } = found.explanations.value;
  const { zone, feedingDayStartHour } = analysis.settings;
  const day = (d: string) => feedingDaySpan(d, zone, feedingDayStartHour);
  const window = animal.series.daily.filter((d) => d.feedingDay >= from && d.feedingDay <= to);
  const { gain, missing } = quantities;
  const first = window[0];
  const last = window.at(-1);
  const ids = new Set(contemporaries);
  const drawn = {
    others: analysis.animals.filter((a) => ids.has(a.animalId)),
    othersAre: say("course-contemporaries", { n: ids.size }),
    slopes: slopesOf(found, first?.at ?? null, last?.at ?? null),
    change: changeOf(found, day),
  };
  if (
    first === undefined ||
    last === undefined ||
    last === first ||
    gain.value === null ||
    missing.value === null
  )
    return { ...drawn, expected: null, missing: null };
  const mean = (of: (d: (typeof window)[number]) => number) =>
    window.reduce((sum, d) => sum + of(d), 0) / window.length;
  const middle = mean((d) => d.at);
  const middleG = mean((d) => d.massG);
  const own = (at: number) => middleG + gain.value! * ((at - middle) / dayMs);
  const share = (at: number) => Math.min(1, (at - first.at) / dayMs / Math.max(1, days));
  const { lower, upper } = missing.interval ?? { lower: null, upper: null };
  const points = window.map((d) => {
    const base = own(d.at);
    const of = (grams: number | null) => (grams === null ? null : base + grams * share(d.at));
    return { at: d.at, value: of(missing.value), lower: of(lower), upper: of(upper) };
  });
  const short = (lower ?? missing.value) > 0;
  return {
    ...drawn,
    expected: { points, words: say("course-at-others") },
    missing: short
      ? {
          fromG: own(last.at),
          toG: points.at(-1)!.value!,
          words: missingWords(missing),
        }
      : null,
  };
}

function missingWords(missing: Measured): string[] {
  const { lower, upper } = missing.interval ?? { lower: null, upper: null };
  const { value, range } = formatInterval(missing.value!, lower, upper, "g");
  return [
    say("course-missing", { grams: value }),
    ...(lower === null && upper === null ? [] : [`(${range})`]),
  ];
}

/** Gain over the fortnight before the window that every number of the page speaks of, and over it. */
function slopesOf({ explanations }: Found, from: number | null, to: number | null): CourseSlope[] {
  const { gain, gainBefore } = explanations.value.quantities;
  if (from === null || to === null || gain.value === null) return [];
  const after = { from, to, words: say("course-gains", { gain: formatMeasured(gain) }) };
  if (gainBefore.value === null) return [after];
  const words = say("course-gained", { gain: formatMeasured(gainBefore) });
  return [{ from: from - 14 * dayMs, to: from, words }, after];
}

function changeOf(
  { change }: Found,
  day: (d: string) => { readonly from: number; readonly to: number },
): CourseChange | null {
  const { since, earliest, latest, strength } = change.value;
  if (since === null || earliest === null || latest === null || strength === "none") return null;
  return {
    at: day(since).from,
    earliest: day(earliest).from,
    latest: day(latest).to,
    // Short, in the picture: the year stands in the caption and at the head of the page.
    label: [
      typeset(
        say(strength === "raised" ? "course-slower" : "course-slower-weak", { since }),
        since.slice(0, 4),
      ),
      typeset(
        say("course-slower-range", { days: formatDays(earliest, latest) }),
        latest.slice(0, 4),
      ),
    ],
    words: say("course-change", {
      since,
      days: formatDays(earliest, latest),
      weak: strength !== "raised",
    }),
  };
}
