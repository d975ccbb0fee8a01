import { type Notice, notice } from "../core/notice.js";
import { UsageError } from "../core/usage-error.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import type { AnimalSeries, StudySeries } from "../series/animal-series.js";

export interface AgeWindow {
  readonly fromAgeD: number;
  readonly toAgeD: number;
}

export interface SeasonGainOptions {
  readonly species: string;
  readonly window: AgeWindow;
  /** Only these seasons, in this order. Default: all, in order of name. */
  readonly seasons?: readonly string[];
  /** Weighed days within this many days of each end of the window are needed. Default: a tenth of it. */
  readonly edgeD?: number;
  /** Fewest weighed days in the window. Default 6. */
  readonly minimumWeighings?: number;
  /** Where in its birth range each birth date is taken. Default "middle". */
  readonly birth?: "earliest" | "middle" | "latest";
}

/** One animal's gain over the window with what it is adjusted for. */
export interface SeasonGain {
  readonly animalId: string;
  readonly season: string;
  readonly sex: "female" | "male" | "unknown";
  /** Regression gain over the window, g/d, its standard error, and the weighed days used. */
  readonly gain: number;
  readonly se: number | null;
  readonly weighings: number;
  readonly arrivalMassG: number;
  readonly arrivalAgeD: number;
  /** The weighed days behind the gain: age in days and mass in g. */
  readonly days: readonly { readonly ageD: number; readonly massG: number }[];
}

export interface SeasonGains {
  readonly species: string;
  readonly window: AgeWindow;
  readonly seasons: readonly string[];
  readonly animals: readonly SeasonGain[];
  /** Animals of the species and seasons that could not be used, each with the reason. */
  readonly leftOut: readonly {
    readonly animalId: string;
    readonly season: string;
    readonly why: Notice;
  }[];
}

const dayMs = 86_400_000;

/**
 * Every animal's average daily gain over one stated age window (regression of
 * the daily masses), for a comparison of seasons. Who can be used is settled
 * here, before any season is looked at: a usable age, weighed days near both
 * ends of the window, an arrival mass. An animal that died or left before the
 * window ended cannot be used, and the seasons are compared among survivors:
 * `leftOut` counts them.
 */
export function seasonGains(study: StudySeries, options: SeasonGainOptions): SeasonGains {
  const { window, species } = options;
  if (!(window.toAgeD > window.fromAgeD && window.fromAgeD >= 0))
    throw new UsageError({
      needed: "a window of ages with 0 <= fromAgeD < toAgeD",
      came: `${window.fromAgeD} to ${window.toAgeD}`,
      where: "seasonGains",
      todo: "Give the window in days of age, e.g. { fromAgeD: 21, toAgeD: 84 }.",
    });
  const ofSpecies = study.animals.filter((a) => a.animal.species === species);
  if (ofSpecies.length === 0)
    throw new UsageError({
      needed: "a species of the study",
      came: `"${species}" has no animal`,
      where: "seasonGains",
      todo: `Use one of: ${study.settings.species.join(", ")}.`,
    });
  const named = [...new Set(ofSpecies.flatMap((a) => a.animal.season ?? []))].sort();
  const seasons = options.seasons ?? named;
  const animals: SeasonGain[] = [];
  const leftOut: { animalId: string; season: string; why: Notice }[] = [];
  for (const animal of ofSpecies) {
    const season = animal.animal.season;
    if (season === null || !seasons.includes(season)) continue;
    const outcome = gainOf(animal, season, options);
    if ("why" in outcome)
      leftOut.push({ animalId: animal.animal.animalId, season, why: outcome.why });
    else animals.push(outcome);
  }
  return { species, window, seasons, animals, leftOut };
}

function gainOf(
  animal: AnimalSeries,
  season: string,
  options: SeasonGainOptions,
): SeasonGain | { readonly why: Notice } {
  const { fromAgeD, toAgeD } = options.window;
  const { animalId, sex, admittedAt, outcome } = animal.animal;
  const not = (code: string, more: Record<string, number | string> = {}) => ({
    why: notice(code, "info", { animal: animalId, from: fromAgeD, to: toAgeD, ...more }),
  });
  const birth = {
    earliest: animal.age.birthEarliest,
    middle: animal.age.birth,
    latest: animal.age.birthLatest,
  }[options.birth ?? "middle"];
  if (birth === null || !animal.age.usableForWeightForAge) return not("season-age-unusable");
  const age = (at: number) => (at - birth) / dayMs;
  const first = animal.daily[0];
  if (first === undefined) return not("season-no-weighings");
  const edge = options.edgeD ?? (toAgeD - fromAgeD) / 10;
  const inside = animal.daily.filter((d) => age(d.at) >= fromAgeD && age(d.at) <= toAgeD);
  const start = inside[0];
  const end = inside.at(-1);
  if (start === undefined || end === undefined || age(start.at) > fromAgeD + edge)
    return not(age(first.at) > fromAgeD + edge ? "season-arrived-late" : "season-gap-at-start");
  if (age(end.at) < toAgeD - edge)
    return not(
      outcome === "died" || outcome === "euthanised"
        ? "season-died-before-end"
        : "season-left-before-end",
    );
  const needed = options.minimumWeighings ?? 6;
  const fit = gainOverWindow(inside, {
    endAt: end.at,
    days: (end.at - start.at) / dayMs + 0.001,
    minimumWeighings: needed,
    minimumSpan: 0.5,
  });
  if (fit.gain.value === null) return not("season-few-weighings", { n: inside.length, needed });
  return {
    animalId,
    season,
    sex,
    gain: fit.gain.value,
    se: fit.gain.se ?? null,
    weighings: fit.n,
    arrivalMassG: first.massG,
    arrivalAgeD: age(admittedAt ?? first.at),
    days: inside.map((d) => ({ ageD: age(d.at), massG: d.massG })),
  };
}
