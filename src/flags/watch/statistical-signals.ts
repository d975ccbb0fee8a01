import { measured, normal95 } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { CivilDate, DailyMass } from "../../series/animal-series.js";
import { dateOfNumber, daysBetween } from "../../units/calendar.js";
import type { EvidenceByKind, FallEvidence, SurpriseEvidence } from "../animal-day/evidence.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal, SignalOf } from "../animal-day/signal.js";
import {
  type PerStatistic,
  type WatchedDay,
  type WatchedStatistic,
  type WatchState,
  watchedStatistics,
} from "./watch-group.js";

/** The largest statistic over its threshold, never below 0; null where none was judged. */
export function statisticalStrength(
  found: { readonly seen: WatchedDay } | null,
  thresholds: PerStatistic | null,
): number | null {
  if (found === null || thresholds === null) return null;
  let most: number | null = null;
  for (const kind of watchedStatistics) {
    const value = found.seen.statistics[kind];
    if (!Number.isNaN(value)) most = Math.max(most ?? 0, strengthOf(value, thresholds[kind]));
  }
  return most;
}

const strengthOf = (value: number, threshold: number) => Math.max(0, value / threshold);

/** What `watchGroup` found for one animal on one day. */
interface FoundDay {
  readonly seen: WatchedDay;
  readonly state: WatchState;
  readonly dayOfIndex: (index: number) => number;
}

/** What the signals of one animal on one day are made from. */
interface Shown extends FoundDay {
  readonly animal: PreparedAnimal;
  readonly row: DailyMass | null;
  readonly surprise: SurpriseEvidence;
}

/**
 * Turns what `watchGroup` found for one animal on one day into signals with
 * evidence, or into reasons why they were not judged. Strength is
 * statistic over threshold.
 */
export function statisticalSignals(
  animal: PreparedAnimal,
  row: DailyMass | null,
  day: CivilDate,
  phase: string | null,
  found: FoundDay | null,
  thresholds: PerStatistic | null,
): readonly (Signal | NotJudged)[] {
  if (found === null || thresholds === null) {
    const why = whyNotWatched(animal.id, row, day, phase);
    return watchedStatistics.map((kind) => ({ kind, why }));
  }
  const { seen, state } = found;
  const few = notice("flag-few-to-compare", "info", {
    animal: animal.id,
    n: seen.contemporaries,
    group: state.animals - 1,
  });
  const circular = notice("z-age-circular", "info", { animal: animal.id });
  const shown = { animal, row, ...found, surprise: surpriseOf(seen) };
  return watchedStatistics.map((kind): Signal | NotJudged => {
    const value = seen.statistics[kind];
    if (Number.isNaN(value)) {
      const unreliable = kind === "level" && !animal.series.age.usableForWeightForAge;
      return { kind, why: unreliable ? circular : few };
    }
    return signalOf(kind, shown, value, thresholds[kind]);
  });
}

function whyNotWatched(
  id: string,
  row: DailyMass | null,
  day: CivilDate,
  phase: string | null,
): Notice {
  if (phase === "arrival") return notice("flag-phase-arrival", "info", { animal: id });
  if (phase === "post-weaning fast") return notice("flag-phase-fast", "info", { animal: id });
  return notice("flag-not-weighed", "info", { animal: id, day, last: row?.feedingDay ?? null });
}

function signalOf(kind: WatchedStatistic, shown: Shown, value: number, threshold: number): Signal {
  switch (kind) {
    case "slowed gain":
      return slowedGain(shown, value, threshold);
    case "level":
      return lowLevel(shown, value, threshold);
    case "gain":
    case "too-fast gain":
      return otherGain(kind, shown, value, threshold);
    case "loss from peak":
      return fallFromPeak(shown, value, threshold);
    default:
      return surprising(kind, shown, value, threshold);
  }
}

/** What all signals share: raised from a strength of 1 on. */
function make<Kind extends WatchedStatistic>(
  kind: Kind,
  judged: { readonly value: number; readonly threshold: number },
  shown: {
    readonly direction: Signal["direction"];
    readonly value: Signal["value"];
    readonly threshold: number;
    readonly evidence: EvidenceByKind[Kind];
    readonly sentence: Notice;
  },
): SignalOf<Kind> {
  const strength = strengthOf(judged.value, judged.threshold);
  const raised = strength >= 1;
  return {
    kind,
    class: "statistical",
    direction: shown.direction,
    raised,
    strength,
    value: shown.value,
    threshold: shown.threshold,
    evidence: shown.evidence,
    sentence: { ...shown.sentence, level: raised ? "problem" : "info" },
  };
}

function slowedGain(
  { animal, row, seen, state, dayOfIndex, surprise }: Shown,
  value: number,
  threshold: number,
): Signal {
  const c = seen.change;
  const dateOf = (index: number) => dateOfNumber(dayOfIndex(index));
  const sinceDay = c === null ? null : dateOf(c.index);
  const missingPctOfGain = c === null ? null : 100 * c.missing;
  const missingSePct = c === null ? null : 100 * c.se;
  return make(
    "slowed gain",
    { value, threshold },
    {
      direction: "low",
      value: measured(value, "evidence"),
      threshold,
      evidence: {
        ...surprise,
        logLikelihoodRatio: value,
        sinceDay,
        sinceEarliestDay: c === null ? null : dateOf(c.earliest),
        sinceLatestDay: c === null ? null : dateOf(c.latest),
        missingPctOfGain,
        missingSePct,
        expectedPctPerD: 100 * state.expectedGain(row?.ageD ?? 0),
        group: state.animals,
      },
      sentence: notice("flag-slowed-gain", "info", {
        animal: animal.id,
        since: sinceDay,
        missing: missingPctOfGain,
        se: missingSePct,
        ratio: value,
        limit: threshold,
      }),
    },
  );
}

function lowLevel({ animal, seen, surprise }: Shown, value: number, threshold: number): Signal {
  const l = seen.level!;
  return make(
    "level",
    { value, threshold },
    {
      direction: "low",
      value: measured(-value, "z", { n: l.n }),
      threshold: -threshold,
      evidence: {
        ...surprise,
        massG: Math.exp(l.own),
        contemporariesCentreG: Math.exp(l.centre),
        contemporaries: l.n,
        ofEarlierSeasons: l.earlier,
      },
      sentence: notice("flag-level", "info", {
        animal: animal.id,
        z: -value,
        mass: Math.exp(l.own),
        centre: Math.exp(l.centre),
        n: l.n,
        earlier: l.earlier,
        limit: -threshold,
      }),
    },
  );
}

function otherGain(
  kind: "gain" | "too-fast gain",
  { animal, seen, surprise }: Shown,
  value: number,
  threshold: number,
): Signal {
  const g = seen.gain!;
  const low = kind === "gain";
  const z = low ? -value : value;
  const limit = low ? -threshold : threshold;
  return make(
    kind,
    { value, threshold },
    {
      direction: low ? "low" : "high",
      value: measured(z, "z", { n: g.n }),
      threshold: limit,
      evidence: {
        ...surprise,
        gainPctPerD: 100 * g.own,
        contemporariesCentrePctPerD: 100 * g.centre,
        contemporaries: g.n,
        ofEarlierSeasons: g.earlier,
      },
      sentence: notice(low ? "flag-gain" : "flag-gain-too-fast", "info", {
        animal: animal.id,
        z,
        gain: 100 * g.own,
        centre: 100 * g.centre,
        n: g.n,
        earlier: g.earlier,
        limit,
      }),
    },
  ) as Signal;
}

function fallFromPeak({ animal, row, surprise }: Shown, value: number, threshold: number): Signal {
  return make(
    "loss from peak",
    { value, threshold },
    {
      direction: "low",
      value: measured(value, "standard errors"),
      threshold,
      evidence: { ...surprise, lossInSe: value, ...peakOf(animal, row) },
      sentence: notice("flag-fall", "info", {
        animal: animal.id,
        z: value,
        now: row?.massG ?? null,
        limit: threshold,
      }),
    },
  );
}

function surprising(
  kind: "surprise average" | "surprise sum",
  { animal, surprise }: Shown,
  value: number,
  threshold: number,
): Signal {
  const average = kind === "surprise average";
  return make(
    kind,
    { value, threshold },
    {
      direction: "low",
      value: measured(average ? -value : value, "standard errors"),
      threshold: average ? -threshold : threshold,
      evidence: surprise,
      sentence: notice(average ? "flag-surprise-average" : "flag-surprise-sum", "info", {
        animal: animal.id,
        value,
        today: surprise.surpriseToday,
        limit: threshold,
      }),
    },
  ) as Signal;
}

/** The heaviest weighing of the last 7 days beside the newest one, in plain grams. */
function peakOf(
  animal: PreparedAnimal,
  row: DailyMass | null,
): Pick<FallEvidence, "nowG" | "peakG" | "peakDay" | "lossPct"> {
  if (row === null) return { nowG: null };
  const index = animal.rowOn.get(row.feedingDay) ?? 0;
  let peak = row;
  for (let i = index; i >= 0; i--) {
    const d = animal.series.daily[i]!;
    if (daysBetween(d.feedingDay, row.feedingDay) > 7) break;
    if (d.massG > peak.massG) peak = d;
  }
  return {
    nowG: row.massG,
    peakG: peak.massG,
    peakDay: peak.feedingDay,
    lossPct: 100 * (1 - row.massG / peak.massG),
  };
}

/** How surprising today's weighing is, and what was expected, with its 95 % interval, g. */
function surpriseOf(seen: WatchedDay): SurpriseEvidence {
  const surpriseToday = finite(seen.surprise);
  if (seen.expected === null) return { surpriseToday };
  const { logMass, sd } = seen.expected;
  return {
    surpriseToday,
    expectedTodayG: Math.exp(logMass),
    expectedLowG: Math.exp(logMass - normal95 * sd),
    expectedHighG: Math.exp(logMass + normal95 * sd),
  };
}

function finite(x: number): number | null {
  return Number.isFinite(x) ? x : null;
}
