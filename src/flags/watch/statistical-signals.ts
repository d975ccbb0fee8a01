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
  found: {
    readonly seen: WatchedDay;
    readonly state: WatchState;
    readonly dayOfIndex: (index: number) => number;
  } | null,
  thresholds: PerStatistic | null,
): readonly (Signal | NotJudged)[] {
  const id = animal.id;
  if (found === null || thresholds === null) {
    const why =
      phase === "arrival"
        ? notice("flag-phase-arrival", "info", { animal: id })
        : phase === "post-weaning fast"
          ? notice("flag-phase-fast", "info", { animal: id })
          : notice("flag-not-weighed", "info", { animal: id, day, last: row?.feedingDay ?? null });
    return watchedStatistics.map((kind) => ({ kind, why }));
  }
  const { seen, state, dayOfIndex } = found;
  const few = notice("flag-few-to-compare", "info", {
    animal: id,
    n: seen.contemporaries,
    group: state.animals - 1,
  });
  const circular = notice("z-age-circular", "info", { animal: id });
  const surprise = surpriseOf(seen);
  return watchedStatistics.map((kind): Signal | NotJudged => {
    const value = seen.statistics[kind];
    if (Number.isNaN(value)) {
      const unreliable = kind === "level" && !animal.series.age.usableForWeightForAge;
      return { kind, why: unreliable ? circular : few };
    }
    const threshold = thresholds[kind];
    const strength = strengthOf(value, threshold);
    const raised = strength >= 1;
    const make = <Kind extends WatchedStatistic>(
      kind: Kind,
      direction: Signal["direction"],
      shown: Signal["value"],
      bound: number,
      evidence: EvidenceByKind[Kind],
      sentence: Notice,
    ): SignalOf<Kind> => ({
      kind,
      class: "statistical",
      direction,
      raised,
      strength,
      value: shown,
      threshold: bound,
      evidence,
      sentence: { ...sentence, level: raised ? "problem" : "info" },
    });
    switch (kind) {
      case "slowed gain": {
        const c = seen.change;
        const since = c === null ? null : dateOfNumber(dayOfIndex(c.index));
        const expected = 100 * state.expectedGain(row?.ageD ?? 0);
        const evidence = {
          ...surprise,
          logLikelihoodRatio: value,
          sinceDay: since,
          sinceEarliestDay: c === null ? null : dateOfNumber(dayOfIndex(c.earliest)),
          sinceLatestDay: c === null ? null : dateOfNumber(dayOfIndex(c.latest)),
          missingPctOfGain: c === null ? null : 100 * c.missing,
          missingSePct: c === null ? null : 100 * c.se,
          expectedPctPerD: expected,
          group: state.animals,
        };
        return make(
          kind,
          "low",
          measured(value, "evidence"),
          threshold,
          evidence,
          notice("flag-slowed-gain", "info", {
            animal: id,
            since,
            missing: c === null ? null : 100 * c.missing,
            se: c === null ? null : 100 * c.se,
            ratio: value,
            limit: threshold,
          }),
        );
      }
      case "level": {
        const l = seen.level!;
        return make(
          kind,
          "low",
          measured(-value, "z", { n: l.n }),
          -threshold,
          {
            ...surprise,
            massG: Math.exp(l.own),
            contemporariesCentreG: Math.exp(l.centre),
            contemporaries: l.n,
            ofEarlierSeasons: l.earlier,
          },
          notice("flag-level", "info", {
            animal: id,
            z: -value,
            mass: Math.exp(l.own),
            centre: Math.exp(l.centre),
            n: l.n,
            earlier: l.earlier,
            limit: -threshold,
          }),
        );
      }
      case "gain":
      case "too-fast gain": {
        const g = seen.gain!;
        const low = kind === "gain";
        const z = low ? -value : value;
        const made: Signal = make(
          kind,
          low ? "low" : "high",
          measured(z, "z", { n: g.n }),
          low ? -threshold : threshold,
          {
            ...surprise,
            gainPctPerD: 100 * g.own,
            contemporariesCentrePctPerD: 100 * g.centre,
            contemporaries: g.n,
            ofEarlierSeasons: g.earlier,
          },
          notice(low ? "flag-gain" : "flag-gain-too-fast", "info", {
            animal: id,
            z,
            gain: 100 * g.own,
            centre: 100 * g.centre,
            n: g.n,
            earlier: g.earlier,
            limit: low ? -threshold : threshold,
          }),
        );
        return made;
      }
      case "loss from peak":
        return make(
          kind,
          "low",
          measured(value, "standard errors"),
          threshold,
          { ...surprise, lossInSe: value, ...peakOf(animal, row) },
          notice("flag-fall", "info", {
            animal: id,
            z: value,
            now: row?.massG ?? null,
            limit: threshold,
          }),
        );
      default: {
        const made: Signal = make(
          kind,
          "low",
          measured(kind === "surprise average" ? -value : value, "standard errors"),
          kind === "surprise average" ? -threshold : threshold,
          surprise,
          notice(
            kind === "surprise average" ? "flag-surprise-average" : "flag-surprise-sum",
            "info",
            {
              animal: id,
              value,
              today: surprise.surpriseToday,
              limit: threshold,
            },
          ),
        );
        return made;
      }
    }
  });
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
