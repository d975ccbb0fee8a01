import { measured } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { CivilDate, DailyMass } from "../../series/animal-series.js";
import { dateOfNumber, daysBetween } from "../../units/calendar.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { type WatchedDay, type WatchState, watchedStatistics } from "./watch-group.js";

/**
 * Turns what `watchGroup` found for one animal on one day into signals with
 * evidence, or into reasons why they were not judged. `thresholds` stand in the
 * order of `watchedStatistics`; strength is statistic over threshold.
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
  thresholds: readonly number[],
): readonly (Signal | NotJudged)[] {
  const id = animal.id;
  if (found === null) {
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
  return watchedStatistics.map((kind, k): Signal | NotJudged => {
    const value = seen.statistics[k]!;
    if (Number.isNaN(value)) {
      const unreliable = kind === "level" && !animal.series.age.usableForWeightForAge;
      return { kind, why: unreliable ? circular : few };
    }
    const threshold = thresholds[k]!;
    const strength = Math.max(0, value / threshold);
    const raised = strength >= 1;
    const make = (
      direction: Signal["direction"],
      shown: Signal["value"],
      bound: number,
      evidence: Signal["evidence"],
      sentence: Notice,
    ): Signal => ({
      kind,
      class: "statistical",
      direction,
      raised,
      strength,
      value: shown,
      threshold: bound,
      evidence: { ...evidence, surprise_today: finite(seen.surprise), ...expectedOf(seen) },
      sentence: { ...sentence, level: raised ? "problem" : "info" },
    });
    switch (kind) {
      case "slowed gain": {
        const c = seen.change;
        const since = c === null ? null : dateOfNumber(dayOfIndex(c.index));
        const expected = 100 * state.expectedGain(row?.ageD ?? 0);
        const evidence = {
          log_likelihood_ratio: value,
          since_day: since,
          since_earliest_day: c === null ? null : dateOfNumber(dayOfIndex(c.earliest)),
          since_latest_day: c === null ? null : dateOfNumber(dayOfIndex(c.latest)),
          missing_pct_of_gain: c === null ? null : 100 * c.missing,
          missing_se_pct: c === null ? null : 100 * c.se,
          expected_pct_per_d: expected,
          group: state.animals,
        };
        return make(
          "low",
          measured(value, "log likelihood ratio"),
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
          "low",
          measured(-value, "z", { n: l.n }),
          -threshold,
          {
            mass_g: Math.exp(l.own),
            contemporaries_centre_g: Math.exp(l.centre),
            contemporaries: l.n,
            of_earlier_seasons: l.earlier,
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
        return make(
          low ? "low" : "high",
          measured(z, "z", { n: g.n }),
          low ? -threshold : threshold,
          {
            gain_pct_per_d: 100 * g.own,
            contemporaries_centre_pct_per_d: 100 * g.centre,
            contemporaries: g.n,
            of_earlier_seasons: g.earlier,
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
      }
      case "loss from peak":
        return make(
          "low",
          measured(value, "standard errors"),
          threshold,
          { loss_in_se: value, ...peakOf(animal, row) },
          notice("flag-fall", "info", {
            animal: id,
            z: value,
            now: row?.massG ?? null,
            limit: threshold,
          }),
        );
      default:
        return make(
          "low",
          measured(kind === "surprise average" ? -value : value, "standard errors"),
          kind === "surprise average" ? -threshold : threshold,
          {},
          notice(
            kind === "surprise average" ? "flag-surprise-average" : "flag-surprise-sum",
            "info",
            {
              animal: id,
              value,
              today: finite(seen.surprise),
              limit: threshold,
            },
          ),
        );
    }
  });
}

/** The heaviest weighing of the last 7 days beside the newest one, in plain grams. */
function peakOf(
  animal: PreparedAnimal,
  row: DailyMass | null,
): Record<string, number | string | null> {
  if (row === null) return { now_g: null };
  const index = animal.rowOn.get(row.feedingDay) ?? 0;
  let peak = row;
  for (let i = index; i >= 0; i--) {
    const d = animal.series.daily[i]!;
    if (daysBetween(d.feedingDay, row.feedingDay) > 7) break;
    if (d.massG > peak.massG) peak = d;
  }
  return {
    now_g: row.massG,
    peak_g: peak.massG,
    peak_day: peak.feedingDay,
    loss_pct: 100 * (1 - row.massG / peak.massG),
  };
}

/** What today's weighing was expected to be, with its 95 % interval, g. */
function expectedOf(seen: WatchedDay): Record<string, number> {
  if (seen.expected === null) return {};
  const { logMass, sd } = seen.expected;
  return {
    expected_today_g: Math.exp(logMass),
    expected_low_g: Math.exp(logMass - 1.96 * sd),
    expected_high_g: Math.exp(logMass + 1.96 * sd),
  };
}

function finite(x: number): number | null {
  return Number.isFinite(x) ? x : null;
}
