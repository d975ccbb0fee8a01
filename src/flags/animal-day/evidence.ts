import type { AlertKind } from "../../rates/sign-limits.js";
import type { CivilDate, Instant } from "../../series/animal-series.js";

/**
 * The numbers behind a signal, by its kind; names end in their unit. A reader asks
 * for the kind first, and the compiler then knows what stands behind it.
 *
 * @example signal.kind === "no feed" && signal.evidence.gapH // 9
 */
export interface EvidenceByKind extends Readonly<Record<AlertKind, SignEvidence>> {
  readonly "slowed gain": SlowedGainEvidence;
  readonly level: LevelEvidence;
  readonly gain: GainEvidence;
  readonly "too-fast gain": GainEvidence;
  readonly "surprise average": SurpriseEvidence;
  readonly "surprise sum": SurpriseEvidence;
  readonly "loss from peak": FallEvidence;
  readonly "acute loss": LossEvidence;
  readonly loss: LossEvidence;
  readonly "no gain": NoGainEvidence;
  readonly "outside mass band": MassBandEvidence;
  readonly "eaten below plan": PlanEvidence & { readonly dayBeforePct: number | null };
  readonly "eaten above plan": PlanEvidence;
  readonly "eaten below habit": HabitEvidence;
  readonly "eaten above limit": SingleFeedEvidence;
  readonly refusals: RefusalEvidence;
  readonly "no feed": FeedGapEvidence;
  readonly "missed feed": FeedGapEvidence;
  readonly conversion: ConversionEvidence;
  readonly temperature: TemperatureEvidence;
  readonly "no stool": ExcretionEvidence;
  readonly "no urine": ExcretionEvidence;
  readonly "scales disagree": ScalesEvidence;
}

/** Everything a rule can say about one animal on one day. */
export type SignalKind = keyof EvidenceByKind;

/** What stands behind every signal from weighings: the day's surprise, and what was expected with 95 % limits. */
export interface SurpriseEvidence {
  /** Standard errors of the day's weighing from what was expected of it; null where it was not. */
  readonly surpriseToday: number | null;
  readonly expectedTodayG?: number;
  readonly expectedLowG?: number;
  readonly expectedHighG?: number;
}

export interface SlowedGainEvidence extends SurpriseEvidence {
  readonly logLikelihoodRatio: number;
  /** The day that fits best as the beginning, and the days between which it lies (90 %). */
  readonly sinceDay: CivilDate | null;
  readonly sinceEarliestDay: CivilDate | null;
  readonly sinceLatestDay: CivilDate | null;
  readonly missingPctOfGain: number | null;
  readonly missingSePct: number | null;
  readonly expectedPctPerD: number;
  /** Animals of the group. */
  readonly group: number;
}

export interface LevelEvidence extends SurpriseEvidence {
  readonly massG: number;
  readonly contemporariesCentreG: number;
  readonly contemporaries: number;
  readonly ofEarlierSeasons: number;
}

export interface GainEvidence extends SurpriseEvidence {
  readonly gainPctPerD: number;
  readonly contemporariesCentrePctPerD: number;
  readonly contemporaries: number;
  readonly ofEarlierSeasons: number;
}

export interface FallEvidence extends SurpriseEvidence {
  /** The fall in standard errors; the rest in plain grams, where the day has a weighing. */
  readonly lossInSe: number;
  readonly nowG: number | null;
  readonly peakG?: number;
  readonly peakDay?: CivilDate;
  readonly lossPct?: number;
}

export interface LossEvidence {
  readonly beforeG: number;
  readonly nowG: number;
  readonly lossG: number;
}

export interface NoGainEvidence {
  readonly gainGPerD: number;
  readonly seGPerD: number;
  readonly days: number;
  readonly weighings: number;
}

export interface MassBandEvidence {
  /** Median of the last weighings. */
  readonly massG: number;
  /** The veterinarian's band on that day of the year. */
  readonly lowG: number;
  readonly highG: number;
  readonly weighings: number;
}

export interface PlanEvidence {
  /** In `unit`, as is `planned`. */
  readonly eaten: number;
  readonly planned: number;
  readonly unit: "g" | "kcal";
  readonly feeds: number;
  readonly plannedFeeds: number;
}

export interface HabitEvidence {
  /** In `unit`, as is `usual`. */
  readonly eaten: number;
  readonly usual: number;
  readonly unit: "g" | "kcal";
  readonly days: number;
  readonly feeds: number;
  readonly usualFeeds: number;
  readonly spreadPct: number;
  readonly dayBeforePct: number | null;
}

export interface SingleFeedEvidence {
  readonly feedG: number;
  readonly limitG: number;
  readonly massG: number;
}

export interface RefusalEvidence {
  readonly refusedG: number;
  readonly offeredG: number;
  readonly feeds: number;
  readonly usualPct: number | null;
  readonly dayBeforePct: number | null;
}

export interface FeedGapEvidence {
  readonly gapH: number;
  readonly fromAt: Instant;
  readonly usualH: number;
  /** Feeds written in it of which nothing was eaten. */
  readonly refused: number;
  /** Nothing is written after it yet. */
  readonly running: boolean;
}

export interface ConversionEvidence {
  readonly ownGPer1000Kcal: number;
  readonly contemporariesGPer1000Kcal: number;
  readonly contemporaries: number;
}

export interface TemperatureEvidence {
  readonly temperatureC: number;
  readonly lowC: number;
  readonly highC: number;
  readonly at: Instant;
}

export interface ExcretionEvidence {
  readonly hours: number;
  /** When it was last recorded; else `admittedAt` is counted from. */
  readonly lastAt: Instant | null;
  readonly admittedAt: Instant | null;
}

export interface ScalesEvidence {
  readonly firstScale: string | null;
  readonly firstG: number | null;
  readonly secondScale: string | null;
  readonly secondG: number | null;
  readonly hours: number;
}

/** What signs raised: how often that day, and the last line, word for word. */
export interface SignEvidence {
  readonly times: number;
  readonly at: Instant;
  readonly written: string;
}
