import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { PhaseName } from "../rates/phases-of.js";
import type { StudySeries } from "../series/animal-series.js";
import { type SeasonAnimal, type SeasonPhase, seasonAnimal } from "./season-animal.js";
import { type Spread, spreadOf } from "./spread.js";

export type GroupBy = "season" | "species" | "sex" | "formula";

export interface SummariseOptions extends LongWork {
  /** What makes a group; several cross. Default species and season. */
  readonly by?: readonly GroupBy[];
  /** Animals already summed up (from an earlier summary's value), to group them anew at no cost. */
  readonly animals?: readonly SeasonAnimal[];
}

export interface SeasonSummary {
  /** What its members share, in the order of `by`. */
  readonly group: Readonly<Partial<Record<GroupBy, string>>>;
  readonly n: number;
  readonly arrivalMass: Spread;
  readonly arrivalAge: Spread;
  readonly daysInCare: Spread;
  readonly dip: Spread;
  readonly arrivalDays: Spread;
  readonly phases: readonly PhaseSummary[];
  readonly outcomes: readonly { readonly outcome: string; readonly n: number }[];
  readonly missing: {
    readonly daysInCare: number;
    readonly daysNotWeighed: number;
    readonly daysNotFed: number;
    readonly feeds: number;
    readonly feedsUnknown: number;
    readonly suspectedSlips: number;
    readonly agesUnknown: number;
  };
}

export interface PhaseSummary {
  readonly phase: PhaseName;
  readonly days: Spread;
  readonly gain: Spread;
  readonly relativeGain: Spread;
  readonly eaten: Spread;
  readonly kcal: Spread;
  readonly shareOfMass: Spread;
  /**
   * kcal kept per g gained of the group: sum over sum, over 14-day windows where both
   * are known, with its standard error from animal to animal (linearised ratio;
   * none for one animal).
   */
  readonly energyPerGain: Measured;
}

export interface SeasonSummaries {
  readonly by: readonly GroupBy[];
  readonly groups: readonly SeasonSummary[];
  readonly animals: readonly SeasonAnimal[];
}

const order: readonly PhaseName[] = [
  "arrival",
  "after arrival",
  "milk",
  "mixed",
  "post-weaning fast",
  "solids",
];

/**
 * Every season (or species, sex, formula, or their crossing) in numbers: how
 * many came and how heavy and old, how they gained, ate and converted phase by
 * phase, what became of them, and what is missing. Every mean stands with its n
 * and spread. Animals are described, not compared: see `compareSeasons`.
 *
 * @example summariseSeasons(study).value.groups[0]?.arrivalMass // { n: 7, mean: 1820, sd: 190, ... }
 */
export function summariseSeasons(
  study: StudySeries,
  options: SummariseOptions = {},
): Result<"summarise-seasons", SeasonSummaries> {
  const by = options.by ?? ["species", "season"];
  const animals =
    options.animals ??
    study.animals.map((series, i) => {
      stopIfCancelled(options.signal);
      options.onProgress?.({ done: i, total: study.animals.length, doing: "summing up animals" });
      return seasonAnimal(series, study.settings);
    });
  const keyed = new Map<string, SeasonAnimal[]>();
  for (const animal of animals) {
    const key = by.map((b) => groupValue(animal, b)).join("\u0000");
    keyed.set(key, [...(keyed.get(key) ?? []), animal]);
  }
  const groups = [...keyed]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, members]) => summaryOf(members, by));
  const notices: Notice[] = groups
    .filter((g) => g.n < 3)
    .map((g) =>
      notice("season-summary-few", "caution", { group: Object.values(g.group).join(", "), n: g.n }),
    );
  return {
    kind: "summarise-seasons",
    schema: 1,
    value: { by, groups, animals },
    method: {
      name: "Description by group",
      options: { by, conversionWindowD: 14 },
      citations: [],
    },
    basis: { used: animals.length, leftOut: [], of: "animals" },
    diagnostics: {},
    notices,
  };
}

function summaryOf(members: readonly SeasonAnimal[], by: readonly GroupBy[]): SeasonSummary {
  const spread = (read: (a: SeasonAnimal) => number | null, unit: string) =>
    spreadOf(members.map(read), unit);
  const total = (read: (a: SeasonAnimal) => number) => members.reduce((s, a) => s + read(a), 0);
  return {
    group: Object.fromEntries(by.map((b) => [b, groupValue(members[0]!, b)])),
    n: members.length,
    arrivalMass: spread((a) => a.arrivalMassG, "g"),
    arrivalAge: spread((a) => a.arrivalAgeD, "d"),
    daysInCare: spread((a) => a.daysInCare, "d"),
    dip: spread((a) => a.dipPct, "%"),
    arrivalDays: spread((a) => a.arrivalDays, "d"),
    phases: order
      .filter((p) => members.some((a) => a.phases.some((x) => x.phase === p)))
      .map((p) => phaseSummary(members, p)),
    outcomes: outcomesOf(members),
    missing: {
      daysInCare: Math.round(total((a) => a.daysInCare ?? 0)),
      daysNotWeighed: total((a) => a.daysNotWeighed),
      daysNotFed: total((a) => a.daysNotFed),
      feeds: total((a) => a.feeds),
      feedsUnknown: total((a) => a.feedsUnknown),
      suspectedSlips: total((a) => a.suspectedSlips),
      agesUnknown: members.filter((a) => a.arrivalAgeD === null).length,
    },
  };
}

function phaseSummary(members: readonly SeasonAnimal[], phase: PhaseName): PhaseSummary {
  // A phase can be cut in two by another; an animal's longest part stands for it.
  const parts = members.flatMap((a) => {
    const own = a.phases.filter((p) => p.phase === phase);
    return own.length === 0 ? [] : [own.reduce((x, y) => (y.days > x.days ? y : x))];
  });
  const spread = (read: (p: (typeof parts)[number]) => number | null, unit: string) =>
    spreadOf(parts.map(read), unit);
  return {
    phase,
    days: spread((p) => p.days, "d"),
    gain: spread((p) => p.gain, "g/d"),
    relativeGain: spread((p) => p.relativeGain, "%/d"),
    eaten: spread((p) => p.eatenG, "g/d"),
    kcal: spread((p) => p.kcal, "kcal/d"),
    shareOfMass: spread((p) => p.shareOfMassPct, "% of body mass/d"),
    energyPerGain: energyPerGain(phase, parts),
  };
}

/** Cochran WG (1977) Sampling Techniques, ch. 6: the ratio of two sums and its error. */
function energyPerGain(phase: PhaseName, parts: readonly SeasonPhase[]): Measured {
  const known = parts.filter((p) => p.windows > 0);
  const n = known.length;
  const kcal = known.reduce((s, p) => s + p.convertedKcal, 0);
  const gained = known.reduce((s, p) => s + p.convertedGainG, 0);
  if (!(n > 0 && gained > 0))
    return notDefined("kcal/g", notice("season-no-conversion", "info", { phase, n }));
  const ratio = kcal / gained;
  const off = known.reduce((s, p) => s + (p.convertedKcal - ratio * p.convertedGainG) ** 2, 0);
  const se = Math.sqrt((n / (n - 1)) * off) / gained;
  return measured(ratio, "kcal/g", { n, ...(n > 1 ? { se } : {}) });
}

function outcomesOf(members: readonly SeasonAnimal[]) {
  const counts = new Map<string, number>();
  for (const a of members) {
    const outcome = a.outcome ?? "not written";
    counts.set(outcome, (counts.get(outcome) ?? 0) + 1);
  }
  return [...counts]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .map(([outcome, n]) => ({ outcome, n }));
}

function groupValue(animal: SeasonAnimal, by: GroupBy): string {
  const value = {
    season: animal.season,
    species: animal.species,
    sex: animal.sex,
    formula: animal.mainFormula,
  }[by];
  return value ?? "not written";
}
