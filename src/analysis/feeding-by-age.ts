import type { IntakeDay } from "../rates/intake-by-day.js";
import { dueLines } from "../series/orders/ordered-on.js";
import { firstNotBefore } from "../series/rows-between.js";
import { median } from "../stats/descriptive/median.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import type { AnimalAnalysis } from "./study-analysis.js";

/** How a species was fed at some ages: medians over animals, of each animal's median day. */
export interface FedAtAge {
  readonly species: string;
  readonly fromD: number;
  /** Null: no end. */
  readonly toD: number | null;
  readonly animals: number;
  /** Whole feeding days behind the medians. */
  readonly days: number;
  readonly feedsOrdered: number | null;
  readonly feedsGiven: number | null;
  /** Hours from one feed to the next, and the longest of a day. */
  readonly betweenH: number | null;
  readonly longestH: number | null;
  /** Eaten of what was ordered, by weight, %; null where no amount was ordered. */
  readonly ofOrderedPct: number | null;
  readonly shareOfMassPct: number | null;
  readonly kcalPerMetabolicKg: number | null;
  /** Energy from solids, %. */
  readonly solidsPct: number | null;
}

/** Ages at which a band begins, days. */
const begins = [0, 30, 60, 90, 120] as const;
/** Feeds so near to each other are one meal, h. */
const sameMealH = 0.5;

type Fed = Pick<AnimalAnalysis, "species" | "series" | "intake">;
type Day = Omit<FedAtAge, "species" | "fromD" | "toD" | "animals" | "days">;
const measures = [
  "feedsOrdered",
  "feedsGiven",
  "betweenH",
  "longestH",
  "ofOrderedPct",
  "shareOfMassPct",
  "kcalPerMetabolicKg",
  "solidsPct",
] as const satisfies readonly (keyof Day)[];

/**
 * Protocol and rhythm by age: what was ordered, how often it was given, and what
 * was eaten of it. Only whole feeding days of animals whose age is known; a day
 * with a refusal left blank has no amount.
 *
 * @example feedingByAge(analysis.animals)[0].betweenH // 2
 */
export function feedingByAge(animals: readonly Fed[]): readonly FedAtAge[] {
  const dated = animals.filter(
    (a) => a.series.age.birth !== null && a.series.age.usableForWeightForAge,
  );
  return [...new Set(dated.map((a) => a.species))].sort().flatMap((species) =>
    begins.flatMap((fromD, i): FedAtAge[] => {
      const toD = begins[i + 1] ?? null;
      const own = dated
        .filter((a) => a.species === species)
        .map((a) => daysOf(a, fromD, toD ?? Number.POSITIVE_INFINITY))
        .filter((days) => days.length > 0);
      if (own.length === 0) return [];
      const middle = (pick: keyof Day) => median(own.flatMap((days) => middleOf(days, pick) ?? []));
      const values = Object.fromEntries(measures.map((m) => [m, middle(m)])) as unknown as Day;
      const days = own.reduce((sum, each) => sum + each.length, 0);
      return [{ species, fromD, toD, animals: own.length, days, ...values }];
    }),
  );
}

const middleOf = (days: readonly Day[], pick: keyof Day) =>
  median(days.flatMap((d) => d[pick] ?? []));

function daysOf(animal: Fed, fromD: number, toD: number): Day[] {
  const birth = animal.series.age.birth!;
  return animal.intake.value
    .filter((d) => d.complete && d.feeds > 0)
    .filter((d) => (d.from - birth) / dayMs >= fromD && (d.from - birth) / dayMs < toD)
    .map((d) => dayOf(animal, d));
}

function dayOf({ series }: Fed, day: IntakeDay): Day {
  const lines = dueLines(series.orders, (day.from + day.to) / 2);
  const sum = (values: readonly (number | null)[]) =>
    values.length === 0 || values.includes(null)
      ? null
      : values.reduce<number>((a, b) => a + b!, 0);
  const ordered = sum(lines.map((l) => l.gPerDay));
  const first = firstNotBefore(series.feeds, day.from);
  const end = firstNotBefore(series.feeds, day.to);
  // The pause into the next day belongs to this one.
  const at = series.feeds.slice(first, end + 1).map((f) => f.at);
  const pauses = at.slice(1).flatMap((t, i) => {
    const h = (t - at[i]!) / hourMs;
    return h > sameMealH && h < 24 ? [h] : [];
  });
  return {
    feedsOrdered: sum(lines.map((l) => l.feeds)),
    feedsGiven: day.feeds,
    betweenH: median(pauses),
    longestH: pauses.length === 0 ? null : Math.max(...pauses),
    ofOrderedPct:
      ordered === null || ordered <= 0 || day.eatenG.value === null
        ? null
        : (100 * day.eatenG.value) / ordered,
    shareOfMassPct: day.shareOfMassPct?.value ?? null,
    kcalPerMetabolicKg: day.kcalPerMetabolicKg?.value ?? null,
    solidsPct: day.solidsEnergyPct?.value ?? null,
  };
}
