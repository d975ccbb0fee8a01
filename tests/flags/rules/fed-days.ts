import type { NotJudged } from "../../../src/flags/animal-day/flag.js";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import type { FedDay } from "../../../src/flags/rules/fed-day.js";
import type { IntakeDay } from "../../../src/rates/intake-by-day.js";
import type { SeriesFeed } from "../../../src/series/animal-series.js";

/** 06:00 on 1 May 2025, begin of a feeding day. */
export const first = Date.UTC(2025, 4, 1, 6);
export const dayMs = 24 * 3_600_000;

export interface LooseDay {
  readonly offeredG?: number;
  readonly refusedG?: number;
  /** Of blank refusals it may have left this much more. */
  readonly blankG?: number;
  readonly feeds?: number;
  readonly doubted?: number;
  /** Energy of a gram; null where it is not known. */
  readonly kcalPerG?: number | null;
}

const bounds = (low: number, high: number | null) => ({
  low,
  high,
  value: low === high ? low : null,
});

/** Intake of the day `index` after the first, as it would be summed from its feeds. */
export function intakeDay(index: number, day: LooseDay = {}): IntakeDay {
  const { offeredG = 400, refusedG = 0, blankG = 0, feeds = 8, kcalPerG = 1 } = day;
  const most = offeredG - refusedG;
  const least = most - blankG;
  const from = first + index * dayMs;
  return {
    feedingDay: new Date(from).toISOString().slice(0, 10),
    from,
    to: from + dayMs,
    feeds,
    offeredG,
    refusedG: bounds(refusedG, refusedG + blankG),
    eatenG: bounds(least, most),
    kcal: kcalPerG === null ? bounds(0, null) : bounds(least * kcalPerG, most * kcalPerG),
    ...(day.doubted === undefined ? {} : { doubted: day.doubted }),
  } as IntakeDay;
}

/** The day judged, the one before it, and the days that make the habit, the newest first. */
export function fedDayOf(
  today: LooseDay,
  before: LooseDay | null = {},
  habit: readonly LooseDay[] = Array.from({ length: 10 }, () => ({})),
  more: Partial<FedDay> = {},
): FedDay {
  return {
    day: intakeDay(20).feedingDay,
    intake: intakeDay(20, today),
    before: before === null ? null : intakeDay(19, before),
    buildUp: false,
    habit: habit.map((d, i) => intakeDay(18 - i, d)),
    ...more,
  };
}

/** An animal with feeds of these diets, one on each of the days 0 to 20. */
export const animalFed = (dietOn: (day: number) => string = () => "formula") =>
  ({
    id: "P1",
    series: {
      feeds: Array.from(
        { length: 21 },
        (_, i) => ({ at: first + i * dayMs, dietId: dietOn(i) }) as SeriesFeed,
      ),
    },
  }) as unknown as PreparedAnimal;

/** Every finding as its kind: raised, within, or why it is not judged. */
export const found = (signals: readonly (Signal | NotJudged)[]) =>
  signals.map((s) => ("why" in s ? s.why.code : s.raised ? "raised" : "within"));
