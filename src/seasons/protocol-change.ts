import { type Interval, type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import type { AnimalSeries, Instant, StudySeries } from "../series/animal-series.js";
import { type CivilDate, feedingDaySpan, isCivilDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { type Spread, spreadOf } from "./spread.js";
import { unadjustedDifference } from "./unadjusted-difference.js";

export interface ProtocolChangeOptions {
  readonly species: string;
  /** When the protocol changed: a moment, or a day as YYYY-MM-DD (from the beginning of its feeding day). */
  readonly at: Instant | CivilDate;
  /** Days looked at on either side. Default 14. */
  readonly days?: number;
  /** Fewest weighed days on either side. Default 5. */
  readonly minimumWeighings?: number;
  readonly level?: number;
}

export interface ProtocolChange {
  readonly at: Instant;
  readonly days: number;
  /** Each animal in care across the change. */
  readonly animals: readonly ChangedAnimal[];
  /** Each animal without the change: the mean of its changes at the ages of the others. */
  readonly controls: readonly {
    readonly animalId: string;
    readonly change: number;
    readonly ages: number;
  }[];
  readonly change: Spread;
  readonly controlChange: Spread;
  /** Change of the relative gain beyond the controls', %/d. */
  readonly effect: Measured;
  readonly df: number | null;
  readonly p: number | null;
  readonly sentences: readonly Notice[];
}

export interface ChangedAnimal {
  readonly animalId: string;
  readonly ageD: number;
  /** Mass on the last weighed day up to the change, g. */
  readonly massG: number;
  /** Relative gain, %/d. */
  readonly before: number;
  readonly after: number;
  readonly change: number;
}

/**
 * A change of protocol inside a season, as an interrupted series: each animal's
 * relative gain in the days after less that in the days before. Gain changes
 * with age by itself, so the same difference at the same ages is taken in
 * animals that were not in care at the change, one mean per animal, and the two
 * groups are compared (Welch). What else changed that day cannot be told apart.
 *
 * Design: difference in differences; Shadish WR, Cook TD, Campbell DT (2002)
 * Experimental and Quasi-Experimental Designs, ch. 6.
 *
 * @example protocolChange(study, { species: "sea otter", at }).value.effect // { value: 0.21, unit: "%/d", ... }
 */
export function protocolChange(
  study: StudySeries,
  options: ProtocolChangeOptions,
): Result<"protocol-change", ProtocolChange> {
  const at = momentOf(options.at, study);
  const days = options.days ?? 14;
  const level = options.level ?? 0.95;
  const needed = options.minimumWeighings ?? 5;
  const ofSpecies = study.animals.filter((a) => a.animal.species === options.species);
  const usable = ofSpecies.filter((a) => a.age.birth !== null && a.age.usableForWeightForAge);
  const animals = usable.flatMap((a): ChangedAnimal[] => {
    const about = changeAt(a, at, days, needed);
    const massG = a.daily.filter((d) => d.at <= at).at(-1)?.massG;
    if (about === null || massG === undefined) return [];
    return [{ animalId: a.animal.animalId, ageD: (at - a.age.birth!) / dayMs, massG, ...about }];
  });
  const controls = usable.flatMap((a) => {
    const { from, to } = a.span ?? { from: 0, to: 0 };
    // Whoever was there near the change cannot serve.
    if (from < at + days * dayMs && to > at - days * dayMs) return [];
    const changes = animals.flatMap(({ ageD }) => {
      const about = changeAt(a, a.age.birth! + ageD * dayMs, days, needed);
      return about === null ? [] : [about.change];
    });
    if (changes.length === 0) return [];
    const change = changes.reduce((s, x) => s + x, 0) / changes.length;
    return [{ animalId: a.animal.animalId, change, ages: changes.length }];
  });
  const treated = animals.map((a) => a.change);
  const others = controls.map((c) => c.change);
  const enough = treated.length >= 3 && others.length >= 3;
  const test = enough ? unadjustedDifference(others, treated, level) : null;
  const meanMass = animals.reduce((sum, a) => sum + a.massG, 0) / Math.max(1, animals.length);
  const why =
    treated.length < 3
      ? notice("protocol-change-too-few", "caution", { n: treated.length })
      : notice("protocol-change-no-controls", "caution", { n: others.length });
  const sentences: Notice[] =
    test === null
      ? [why]
      : [
          notice(
            excludesZero(test.interval) ? "protocol-change-effect" : "protocol-change-not-shown",
            "info",
            {
              difference: test.difference,
              mass: meanMass,
              grams: (test.difference / 100) * meanMass,
              level,
              lower: test.interval.lower,
              upper: test.interval.upper,
              n: treated.length,
              controls: others.length,
            },
          ),
        ];
  sentences.push(notice("protocol-change-same-day", "caution"));
  return {
    kind: "protocol-change",
    schema: 1,
    value: {
      at,
      days,
      animals,
      controls,
      change: spreadOf(treated, "%/d"),
      controlChange: spreadOf(others, "%/d"),
      effect:
        test === null
          ? notDefined("%/d", why)
          : measured(test.difference, "%/d", {
              se: test.se,
              n: treated.length + others.length,
              interval: test.interval,
            }),
      df: test?.df ?? null,
      p: test?.p ?? null,
      sentences,
    },
    method: {
      name: "Change of relative gain across a date, against animals of the same age",
      options: { species: options.species, at, days, minimumWeighings: needed, level },
      citations: ["Shadish WR, Cook TD, Campbell DT (2002), ch. 6"],
    },
    basis: {
      used: animals.length + controls.length,
      leftOut: [
        { reason: "age unusable", count: ofSpecies.length - usable.length },
        {
          reason: "not weighed on both sides, or in care near the change",
          count: usable.length - animals.length - controls.length,
        },
      ].filter((l) => l.count > 0),
      of: "animals",
    },
    diagnostics: {},
    notices: [],
  };
}

function excludesZero({ lower, upper }: Interval): boolean {
  return (lower !== null && lower > 0) || (upper !== null && upper < 0);
}

function momentOf(at: Instant | CivilDate, { settings }: StudySeries): Instant {
  if (typeof at === "number") return at;
  if (isCivilDate(at)) return feedingDaySpan(at, settings.zone, settings.feedingDayStartHour).from;
  throw new UsageError({
    needed: "a moment, or a day as YYYY-MM-DD",
    came: `"${at}"`,
    where: "protocolChange",
    todo: 'Write the day as "2021-06-01".',
  });
}

function changeAt(a: AnimalSeries, at: Instant, days: number, needed: number) {
  const gain = (endAt: Instant) =>
    gainOverWindow(a.daily, { endAt, days, minimumWeighings: needed, minimumSpan: 0.6 }).relative
      .value;
  const before = gain(at);
  const after = gain(at + days * dayMs);
  return before === null || after === null ? null : { before, after, change: after - before };
}
