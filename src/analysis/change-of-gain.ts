import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import type { Signal } from "../flags/animal-day/signal.js";
import { changeDaysHeld } from "../flags/budget/change-days-held.js";
import { replayFlags } from "../flags/replay-flags.js";
import type { CivilDate } from "../series/animal-series.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Since when an animal gains less than expected of it. */
export interface ChangeOfGain {
  readonly animalId: string;
  /**
   * "watch": the signal of a slowed gain, against what was expected of the animal, alone or
   * in a group. Null where its weighings could not be judged.
   */
  readonly by: "watch" | null;
  /** Day of the weighing that it was judged with. */
  readonly asOf: CivilDate | null;
  readonly since: CivilDate | null;
  readonly earliest: CivilDate | null;
  readonly latest: CivilDate | null;
  /** Coverage aimed at by earliest and latest. */
  readonly level: 0.9;
  /** True where a flag stands for it; a weaker change is shown and said to be weak. */
  readonly raised: boolean;
  /** "none": no slowing to be seen. */
  readonly strength: "raised" | "weak" | "none";
  /** Evidence of a slowed gain, log(1 + 10 x Bayes factor), and the limit from which it is a flag. */
  readonly evidence: number | null;
  readonly limit: number | null;
  readonly sentences: readonly Notice[];
}

/** How many days back the last judgement may lie. */
const freshWithinD = 7;

/**
 * Since when an animal gains more slowly than expected, with the day that fits
 * best and the earliest and latest day that the records leave open (90 %). Taken
 * from the signal of a slowed gain on the last day on which it was judged, raised or
 * not: the watch is the one owner of that day. A change without a flag is the most likely one and may be chance:
 * its sentence says how weak it is.
 *
 * How often the interval held a day known from simulation stands in its sentence, as the
 * bench `change-day-coverage` last measured it (`flags/budget/change-days-held`).
 *
 * @example changeOfGain(analysis, animal).value.since // "2024-03-26"
 */
export function changeOfGain(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
): Result<"change-of-gain", ChangeOfGain> {
  const found = lastJudged(analysis, animal);
  const bare = found === null ? notComputed(animal) : fromSignal(animal, found.day, found.signal);
  const value = { ...bare, sentences: [...bare.sentences, ...fastBetween(analysis, animal, bare)] };
  return {
    kind: "change-of-gain",
    schema: 1,
    value,
    method: {
      name: "Bayes factor of a gain that fell short, day by day of its beginning",
      options: { onDay: analysis.onDay, level: 0.9, freshWithinD },
      citations: [],
    },
    basis: { used: animal.series.daily.length, leftOut: [], of: "weighed days" },
    diagnostics: {},
    notices: value.sentences,
  };
}

/** A post-weaning fast that lies in the days since the change: loss is expected in it. */
function fastBetween(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  change: ChangeOfGain,
): Notice[] {
  const { earliest } = change;
  if (earliest === null) return [];
  const { zone, feedingDayStartHour } = analysis.settings;
  const { from } = feedingDaySpan(earliest, zone, feedingDayStartHour);
  const fast = animal.phases.find(
    (p) => p.phase === "post-weaning fast" && (p.to === null || p.to > from),
  );
  if (fast === undefined) return [];
  const day = (at: number) => feedingDayOf(at, zone, feedingDayStartHour);
  return [
    notice("change-fast", "caution", {
      animal: animal.animalId,
      from: day(fast.from),
      to: fast.to === null ? null : day(fast.to),
    }),
  ];
}

function lastJudged(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
): { day: CivilDate; signal: Signal<"slowed gain"> } | null {
  const today = judgedSignal(animal.day, "slowed gain");
  if (today !== null) return { day: analysis.onDay, signal: today };
  // Not weighed today, say: the newest day of the last week that was judged.
  const reasons = animal.day?.notJudged.filter((n) => n.kind === "slowed gain") ?? [];
  if (!reasons.some((r) => r.why.code === "flag-not-weighed")) return null;
  const replay = replayFlags(analysis.series, {
    from: addDays(analysis.onDay, -freshWithinD),
    to: addDays(analysis.onDay, -1),
  });
  for (const day of [...replay.days].reverse()) {
    const then = day.animals.find((a) => a.animalId === animal.animalId);
    const signal = judgedSignal(then, "slowed gain");
    if (signal !== null) return { day: day.onDay, signal };
  }
  return null;
}

function fromSignal(
  animal: AnimalAnalysis,
  day: CivilDate,
  signal: Signal<"slowed gain">,
): ChangeOfGain {
  const { sinceDay: since, missingPctOfGain: missing } = signal.evidence;
  const ratio = signal.value.value;
  const slows = since !== null && missing !== null && missing > 0 && (ratio ?? 0) > 0;
  const strength = signal.raised ? "raised" : slows ? "weak" : "none";
  const range = {
    earliest: signal.evidence.sinceEarliestDay,
    latest: signal.evidence.sinceLatestDay,
  };
  return {
    animalId: animal.animalId,
    by: "watch",
    asOf: day,
    since: slows ? since : null,
    earliest: slows ? range.earliest : null,
    latest: slows ? range.latest : null,
    level: 0.9,
    raised: signal.raised,
    strength,
    evidence: ratio,
    limit: signal.threshold,
    sentences: sentencesOf(animal, day, strength, {
      since,
      ...range,
      ratio,
      limit: signal.threshold,
    }),
  };
}

function sentencesOf(
  animal: AnimalAnalysis,
  day: CivilDate,
  strength: ChangeOfGain["strength"],
  p: {
    readonly since: CivilDate | null;
    readonly earliest: CivilDate | null;
    readonly latest: CivilDate | null;
    readonly ratio: number | null;
    readonly limit: number | null;
  },
): Notice[] {
  const parameters = { animal: animal.animalId, day, ...p };
  if (strength === "none") return [notice("change-none", "info", parameters)];
  return [
    notice(
      strength === "raised" ? "change-raised" : "change-weak",
      strength === "raised" ? "problem" : "info",
      parameters,
    ),
    notice("change-interval", "info", { ...parameters, ...changeDaysHeld }),
  ];
}

/** Nothing is told where the watch could not judge: there is no second rule beside it. */
function notComputed(animal: AnimalAnalysis): ChangeOfGain {
  return {
    animalId: animal.animalId,
    by: null,
    asOf: animal.last?.feedingDay ?? null,
    since: null,
    earliest: null,
    latest: null,
    level: 0.9,
    raised: false,
    strength: "none",
    evidence: null,
    limit: null,
    sentences: [notice("change-not-computed", "caution", { animal: animal.animalId })],
  };
}
