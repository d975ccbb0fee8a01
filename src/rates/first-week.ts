import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, Instant } from "../series/animal-series.js";
import { isSurelyPresent, mayBePresent, type Sign } from "../series/signs/sign.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import { type KeptIntake, keptIntake } from "./kept-intake.js";
import { limitSource } from "./limit-source.js";
import { defaultSignLimits, type SignLimits } from "./sign-limits.js";

/** Kinds that a first examination looks at; common practice, the veterinarian's list wins. */
export const examItems = [
  "weighing",
  "temperature",
  "glucose",
  "hydration",
  "behaviour",
  "suckle",
  "length",
  "condition score",
  "exam",
] as const;
export type ExamItem = (typeof examItems)[number];

/** One kind of sign over the first week. */
export interface FirstWeekSign {
  readonly kind: Sign["kind"];
  readonly times: number;
  readonly first: Sign | null;
  readonly last: Sign | null;
}

/** What is known of a newcomer in its first seven days. */
export interface FirstWeek {
  readonly admittedAt: Instant;
  /** Until when it was looked at. */
  readonly at: Instant;
  readonly hours: number;
  /** Every reading against the first one, %: below zero is a loss. */
  readonly masses: readonly {
    readonly at: Instant;
    readonly massG: number;
    readonly changePct: number;
    readonly doubted: boolean;
  }[];
  /** Temperature, glucose, suckle, behaviour, hydration: how often, first and last. */
  readonly signs: readonly FirstWeekSign[];
  /** Hours after admission of the first urine and stool that was surely seen; null: not yet. */
  readonly firstUrineH: number | null;
  readonly firstStoolH: number | null;
  /** Lines about fluids that were given. */
  readonly fluids: readonly Sign[];
  readonly feeds: number;
  readonly intake: KeptIntake;
  /** Of the written examination of the first 24 h: what nobody wrote. */
  readonly missing: readonly ExamItem[];
  /** What is expected of a newcomer, each with where it is from. */
  readonly expectations: readonly Notice[];
}

const watched = ["temperature", "glucose", "suckle", "behaviour", "hydration"] as const;

/**
 * The first week of a newcomer, from its admission to an instant; null where the
 * admission is not known or lies more than seven days back. What is expected is common
 * practice or of the species profile, and says so; nothing here is a diagnosis.
 *
 * @example firstWeek(series, { at, profile })?.missing // ["glucose", "length"]
 */
export function firstWeek(
  series: AnimalSeries,
  options: {
    readonly at: Instant;
    readonly profile: SpeciesProfile;
    /** What loss is looked at and a danger, %, and where that is from. */
    readonly loss: {
      readonly look: number | null;
      readonly danger: number | null;
      readonly source: string;
    };
    readonly limits?: SignLimits;
  },
): FirstWeek | null {
  const { at, profile, limits = defaultSignLimits } = options;
  const { admittedAt, animalId } = series.animal;
  if (admittedAt === null || at < admittedAt || at - admittedAt > 7 * dayMs) return null;
  // An examination is often written a little before the admission is.
  const since = admittedAt - 3 * hourMs;
  const signs = series.signs.filter((s) => s.at >= since && s.at <= at);
  const readings = series.weighings.filter(
    (w) => w.at >= since && w.at <= at && w.netG !== null && w.netG > 0,
  );
  const first = readings.find((w) => w.slip === null) ?? readings[0];
  const firstH = (kind: "urine" | "stool") => {
    const seen = signs.find((s) => s.kind === kind && isSurelyPresent(s));
    return seen === undefined ? null : (seen.at - admittedAt) / hourMs;
  };
  const early = signs.filter((s) => s.at <= admittedAt + dayMs && s.state !== "not looked");
  const written = (item: ExamItem) =>
    item === "weighing"
      ? readings.some((w) => w.at <= admittedAt + dayMs)
      : early.some((s) => s.kind === item);
  const range = profile.bodyTemperature;
  return {
    admittedAt,
    at,
    hours: (at - admittedAt) / hourMs,
    masses: readings.map((w) => ({
      at: w.at,
      massG: w.netG!,
      changePct: 100 * (w.netG! / first!.netG! - 1),
      doubted: w.slip !== null,
    })),
    signs: watched.map((kind) => {
      const own = signs.filter((s) => s.kind === kind && s.state !== "not looked");
      return { kind, times: own.length, first: own[0] ?? null, last: own.at(-1) ?? null };
    }),
    firstUrineH: firstH("urine"),
    firstStoolH: firstH("stool"),
    fluids: signs.filter((s) => s.kind === "fluids" && mayBePresent(s)),
    feeds: series.feeds.filter((f) => f.at >= since && f.at <= at).length,
    intake: keptIntake(series, since - 1, at),
    missing: examItems.filter((item) => !written(item)),
    expectations: [
      notice("first-week-mass", "info", options.loss),
      notice("first-week-output", "info"),
      notice("first-week-glucose", "info", {
        look: limits.glucoseLook,
        danger: limits.glucoseDanger,
        source: limitSource(limits, defaultSignLimits, ["glucoseLook", "glucoseDanger"]),
      }),
      range === null
        ? notice("first-week-no-range", "caution", { animal: animalId, species: profile.species })
        : notice("first-week-temperature", "info", {
            low: range.range[0],
            high: range.range[1],
            source: range.source,
            sure: range.sure,
          }),
    ],
  };
}
