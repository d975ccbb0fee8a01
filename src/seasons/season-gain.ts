import { type Notice, notice } from "../core/notice.js";
import { UsageError } from "../core/usage-error.js";
import { gainOverWindow } from "../rates/gain-over-window.js";
import type { AnimalSeries, StudySeries } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";
import {
  daysByAge,
  daysByMass,
  type GainWindow,
  isAgeWindow,
  requireGainWindow,
} from "./gain-window.js";

export type { AgeWindow, GainWindow, MassWindow } from "./gain-window.js";

export interface SeasonGainOptions {
  readonly species: string;
  /** Ages (the usual choice), or masses where ages are not to be trusted. */
  readonly window: GainWindow;
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
  /** Null where the age cannot be used. */
  readonly arrivalAgeD: number | null;
  /** The weighed days behind the gain: age in days and mass in g. */
  readonly days: readonly { readonly ageD: number; readonly massG: number }[];
}

export interface SeasonGains {
  readonly species: string;
  readonly window: GainWindow;
  readonly seasons: readonly string[];
  readonly animals: readonly SeasonGain[];
  /** Animals of the species and seasons that could not be used, each with the reason. */
  readonly leftOut: readonly {
    readonly animalId: string;
    readonly season: string;
    readonly why: Notice;
  }[];
}

/**
 * Every animal's average daily gain over one stated window (regression of the
 * daily masses), for a comparison of seasons. Who can be used is settled here,
 * before any season is looked at: for a window of ages a usable age and weighed
 * days near both ends; for a window of masses an arrival below it and a mass
 * above it. An animal that died or left before the window ended cannot be used,
 * and the seasons are compared among survivors: `leftOut` counts them.
 *
 * @example seasonGains(study, { species: "sea otter", window: { fromAgeD: 21, toAgeD: 84 } }).animals[0]?.gain // 38.2
 */
export function seasonGains(study: StudySeries, options: SeasonGainOptions): SeasonGains {
  const { window, species } = options;
  requireGainWindow(window);
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
    if (season === null && options.seasons === undefined) {
      const { animalId } = animal.animal;
      leftOut.push({
        animalId,
        season: "not written",
        why: notice("season-not-written", "caution", { animal: animalId }),
      });
    }
    if (season === null || !seasons.includes(season)) continue;
    const outcome = gainOf(animal, season, options);
    if ("why" in outcome)
      leftOut.push({ animalId: animal.animal.animalId, season, why: outcome.why });
    else animals.push(outcome);
  }
  return { species, window, seasons, animals, leftOut };
}

/** Fewest animals of a season with a complete window. */
const LEAST_ANIMALS = 3;

/** The seasons with animals enough to be compared. */
export function enoughAnimals(gains: SeasonGains): string[] {
  const n = (season: string) => gains.animals.filter((a) => a.season === season).length;
  return gains.seasons.filter((s) => n(s) >= LEAST_ANIMALS);
}

function gainOf(
  animal: AnimalSeries,
  season: string,
  options: SeasonGainOptions,
): SeasonGain | { readonly why: Notice } {
  const { window } = options;
  const { animalId, sex, admittedAt } = animal.animal;
  const about = { animal: animalId, ...window };
  const first = animal.daily[0];
  if (first === undefined) return { why: notice("season-no-weighings", "info", about) };
  const birth = {
    earliest: animal.age.birthEarliest,
    middle: animal.age.birth,
    latest: animal.age.birthLatest,
  }[options.birth ?? "middle"];
  const dated = birth !== null && animal.age.usableForWeightForAge;
  const rows = isAgeWindow(window)
    ? dated
      ? daysByAge(animal, window, birth, options.edgeD)
      : "season-age-unusable"
    : daysByMass(animal, window);
  if (typeof rows === "string") return { why: notice(rows, "info", about) };
  const start = rows[0]!;
  const end = rows.at(-1)!;
  const needed = options.minimumWeighings ?? 6;
  const fit = gainOverWindow(rows, {
    endAt: end.at,
    days: (end.at - start.at) / dayMs + 0.001,
    minimumWeighings: needed,
    minimumSpan: 0.5,
  });
  if (fit.gain.value === null)
    return { why: notice("season-few-weighings", "info", { ...about, n: rows.length, needed }) };
  const zero = dated ? birth : first.at;
  return {
    animalId,
    season,
    sex,
    gain: fit.gain.value,
    se: fit.gain.se ?? null,
    weighings: fit.n,
    arrivalMassG: first.massG,
    arrivalAgeD: dated ? ((admittedAt ?? first.at) - birth) / dayMs : null,
    days: rows.map((d) => ({ ageD: (d.at - zero) / dayMs, massG: d.massG })),
  };
}
