import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import type { Signal } from "../flags/animal-day/signal.js";
import { replayFlags } from "../flags/replay-flags.js";
import type { CivilDate } from "../series/animal-series.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { courseAnimal } from "./courses-of-study.js";
import { ownChange } from "./own-change.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Since when an animal gains less than expected of it. */
export interface ChangeOfGain {
  readonly animalId: string;
  /**
   * "group": the signal of a slowed gain, against the group's curve and the
   * animal's own earlier gain. "own weighings": a bend in its own ln mass, where
   * the group could not judge. Null where neither could be computed.
   */
  readonly by: "group" | "own weighings" | null;
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
  /** Evidence and the limit from which it is a flag: log likelihood ratio, or z of the bend. */
  readonly evidence: number | null;
  readonly limit: number | null;
  readonly sentences: readonly Notice[];
}

/**
 * In how many of 100 simulated animals whose gain was halved the interval held the
 * true day, lowest and highest of the worlds and days of the bench
 * `change-day-coverage` (dated results beside it).
 */
const heldInSimulation = { group: [89, 100], own: [88, 99] } as const;
/** How far back a bend in the own weighings is looked for, days. */
const lookBackD = 42;
/** z of a bend below which it is called weak: one is chosen among many days. */
const weakBelow = 3;
/** How many days back the last judgement of the group may lie. */
const freshWithinD = 7;

/**
 * Since when an animal gains more slowly than expected, with the day that fits
 * best and the earliest and latest day that the records leave open (90 %). Taken
 * from the signal of a slowed gain on the last day on which it was judged,
 * raised or not; where the group could not judge, from a bend in the animal's own
 * weighings. A change without a flag is the most likely one and may be chance:
 * its sentence says how weak it is.
 *
 * In simulated groups whose animal's gain falls by half on a known day the
 * interval held that day more often than aimed at (bench `change-day-coverage`).
 *
 * @example changeOfGain(analysis, animal).value.since // "2024-03-26"
 */
export function changeOfGain(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
): Result<"change-of-gain", ChangeOfGain> {
  const found = lastJudged(analysis, animal);
  const bare =
    found === null
      ? fromOwnWeighings(analysis, animal)
      : fromSignal(animal, found.day, found.signal);
  const value = { ...bare, sentences: [...bare.sentences, ...fastBetween(analysis, animal, bare)] };
  return {
    kind: "change-of-gain",
    schema: 1,
    value,
    method: {
      name:
        value.by === "own weighings"
          ? "One bend in the animal's own ln mass"
          : "Scan of the log likelihood ratio of a slowed gain",
      options: { onDay: analysis.onDay, level: 0.9, lookBackD, freshWithinD },
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
    by: "group",
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
    notice("change-interval", "info", { ...parameters, ...heldOf("group") }),
  ];
}

const heldOf = (by: keyof typeof heldInSimulation) => ({
  heldLow: heldInSimulation[by][0],
  heldHigh: heldInSimulation[by][1],
});

function fromOwnWeighings(analysis: StudyAnalysis, animal: AnimalAnalysis): ChangeOfGain {
  const { rows } = courseAnimal(analysis, animal);
  const lastTime = rows.at(-1)?.time ?? 0;
  const used = rows.filter((r) => lastTime - r.time <= lookBackD);
  const change = ownChange(
    used.map((r) => r.time),
    used.map((r) => r.logMass),
    used.map((r) => r.error),
  );
  const asOf = animal.last?.feedingDay ?? null;
  const nothing: ChangeOfGain = {
    animalId: animal.animalId,
    by: null,
    asOf,
    since: null,
    earliest: null,
    latest: null,
    level: 0.9,
    raised: false,
    strength: "none",
    evidence: null,
    limit: null,
    sentences: [
      notice("change-not-computed", "caution", { animal: animal.animalId, n: used.length }),
    ],
  };
  if (asOf === null || used.length < 8) return nothing;
  const dayOf = (i: number) =>
    animal.series.daily.find((d) => d.at / dayMs === used[i]!.time)?.feedingDay ?? null;
  if (change === null || change.z <= 0) {
    return {
      ...nothing,
      by: "own weighings",
      sentences: [notice("change-none", "info", { animal: animal.animalId, day: asOf })],
    };
  }
  const since = dayOf(change.index)!;
  const weak = change.z < weakBelow;
  const parameters = {
    animal: animal.animalId,
    day: asOf,
    since,
    earliest: dayOf(change.earliest),
    latest: dayOf(change.latest),
    before: 100 * change.before,
    after: 100 * change.after,
    z: change.z,
    limit: weakBelow,
  };
  return {
    ...nothing,
    by: "own weighings",
    since,
    earliest: parameters.earliest,
    latest: parameters.latest,
    strength: "weak",
    evidence: change.z,
    limit: weakBelow,
    sentences: [
      notice("change-own", weak ? "info" : "caution", { ...parameters, weak }),
      notice("change-interval", "info", { ...parameters, ...heldOf("own") }),
    ],
  };
}
