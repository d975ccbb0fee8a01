import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { feedConversion } from "../rates/feed-conversion.js";
import { meanIntake } from "../rates/mean-intake.js";
import type { Instant } from "../series/animal-series.js";
import { quantile } from "../stats/descriptive/quantile.js";
import { contemporariesOf } from "./contemporaries-of.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Intake, gain and conversion of one animal beside those of its contemporaries at its age. */
export interface ContemporaryFeeding {
  readonly animalId: string;
  readonly own: FeedingAtAge;
  readonly others: readonly FeedingAtAge[];
  readonly measures: readonly ContemporaryMeasure[];
}

export interface FeedingAtAge {
  readonly animalId: string;
  readonly ageD: number | null;
  readonly massG: number | null;
  readonly eatenGPerD: number | null;
  /** Energy eaten, and kept: eaten less what came up. */
  readonly kcalPerD: number | null;
  readonly keptKcalPerD: number | null;
  readonly shareOfMassPct: number | null;
  readonly gainGPerD: number | null;
  readonly relativeGainPct: number | null;
  /** g gained per 100 kcal kept: eaten less what came up. */
  readonly gainPer100Kcal: number | null;
  readonly ranges: {
    readonly eatenGPerD: readonly [number, number] | null;
    readonly kcalPerD: readonly [number, number] | null;
    readonly keptKcalPerD: readonly [number, number] | null;
    readonly shareOfMassPct: readonly [number, number] | null;
    readonly gainPer100Kcal: readonly [number, number] | null;
  };
}

export interface ContemporaryMeasure {
  readonly name: string;
  readonly unit: string;
  readonly own: number | null;
  /** Where the own value is known only to lie between two limits (blank refusals). */
  readonly ownRange: readonly [number, number] | null;
  readonly median: number | null;
  readonly lowerQuartile: number | null;
  readonly upperQuartile: number | null;
  readonly n: number;
}

/**
 * Puts one animal's intake (mean of 7 complete feeding days), gain and feed
 * conversion (14 days) beside those of its contemporaries, each over its own
 * days at the same age. Quartiles of type 7 (Hyndman and Fan 1996). Only data
 * up to the day looked at are used.
 *
 * @example contemporaryFeeding(analysis, animalOf(analysis, "O25-04")).value.measures[0]
 */
export function contemporaryFeeding(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
): Result<"contemporary-feeding", ContemporaryFeeding> {
  const group = contemporariesOf(analysis, animal);
  const own = feedingAt(animal, animal.last?.at ?? 0, animal.last?.feedingDay ?? analysis.onDay);
  const others = group.members.flatMap((member) => {
    const other = analysis.animals.find((a) => a.animalId === member.animalId);
    const at = other?.series.daily.find((d) => d.feedingDay === member.feedingDay)?.at;
    return other === undefined || at === undefined ? [] : [feedingAt(other, at, member.feedingDay)];
  });
  const measure = (
    name: string,
    unit: string,
    read: (f: FeedingAtAge) => number | null,
    range: (f: FeedingAtAge) => readonly [number, number] | null = () => null,
  ) => {
    const values = others
      .flatMap((f) => read(f) ?? [])
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    const at = (p: number) => (values.length === 0 ? null : quantile(values, p));
    return {
      name,
      unit,
      own: read(own),
      ownRange: read(own) === null ? range(own) : null,
      median: at(0.5),
      lowerQuartile: at(0.25),
      upperQuartile: at(0.75),
      n: values.length,
    };
  };
  const notices: Notice[] = [...group.notices];
  return {
    kind: "contemporary-feeding",
    schema: 1,
    value: {
      animalId: animal.animalId,
      own,
      others,
      measures: [
        measure("Mass", "g", (f) => f.massG),
        measure("Gain", "g/d", (f) => f.gainGPerD),
        measure("Relative gain", "%/d", (f) => f.relativeGainPct),
        measure(
          "Eaten",
          "g/d",
          (f) => f.eatenGPerD,
          (f) => f.ranges.eatenGPerD,
        ),
        measure(
          "Energy eaten",
          "kcal/d",
          (f) => f.kcalPerD,
          (f) => f.ranges.kcalPerD,
        ),
        measure(
          "Energy kept",
          "kcal/d",
          (f) => f.keptKcalPerD,
          (f) => f.ranges.keptKcalPerD,
        ),
        measure(
          "Eaten",
          "% of body mass/d",
          (f) => f.shareOfMassPct,
          (f) => f.ranges.shareOfMassPct,
        ),
        measure(
          "Gain per energy kept",
          "g per 100 kcal",
          (f) => f.gainPer100Kcal,
          (f) => f.ranges.gainPer100Kcal,
        ),
      ],
    },
    method: {
      name: "Medians and quartiles of contemporaries at the same age",
      options: { intakeDays: 7, conversionDays: 14, earlierSeasons: true },
      citations: ["Hyndman RJ, Fan Y (1996) The American Statistician 50:361-365"],
    },
    basis: { used: others.length, leftOut: group.leftOut, of: "contemporaries" },
    diagnostics: {},
    notices,
  };
}

function feedingAt(animal: AnimalAnalysis, at: Instant, day: string): FeedingAtAge {
  const row = animal.gain.daily.find((d) => d.at === at);
  const intake = meanIntake(animal.intake.value, { to: day });
  const conversion = feedConversion(animal.series, { endAt: at }).value;
  const perKcal = conversion.gainPerFeed.energy.value;
  const bounds = conversion.gainPerFeed.energy.range;
  const energyRange =
    bounds === null || bounds.high === null ? null : ([bounds.low, bounds.high] as const);
  return {
    animalId: animal.animalId,
    ageD: row?.ageD ?? null,
    massG: row?.massG ?? null,
    eatenGPerD: intake.eatenG.value,
    kcalPerD: intake.kcal.value,
    keptKcalPerD: intake.keptKcal.value,
    shareOfMassPct: intake.shareOfMassPct.value,
    gainGPerD: row?.overWindow.gain.value ?? null,
    relativeGainPct: row?.overWindow.relative.value ?? null,
    gainPer100Kcal: perKcal === null ? null : 100 * perKcal,
    ranges: {
      eatenGPerD: rangeOf(intake.eatenG),
      kcalPerD: rangeOf(intake.kcal),
      keptKcalPerD: rangeOf(intake.keptKcal),
      shareOfMassPct: rangeOf(intake.shareOfMassPct),
      gainPer100Kcal: energyRange === null ? null : [100 * energyRange[0], 100 * energyRange[1]],
    },
  };
}

/** The limits of a mean that is known only within bounds. */
function rangeOf(m: Measured): readonly [number, number] | null {
  const { interval } = m;
  if (interval === undefined || interval.level !== 1) return null;
  return interval.lower === null || interval.upper === null
    ? null
    : [interval.lower, interval.upper];
}
