import type { WeakGain } from "../../reference/expectation-prior.js";
import { recordEnd } from "../../reference/in-care.js";
import {
  beforeDeathD,
  dayOfDeath,
  isNearUnwell,
  unwellAfterD,
  unwellDays,
} from "../../reference/unwell-days.js";
import type {
  AnimalSeries,
  CivilDate,
  PriorFile,
  StudySeries,
} from "../../series/animal-series.js";
import { conditionErrors } from "../../series/condition.js";
import { profileOf } from "../../species/profile-of.js";
import { isSameSpecies } from "../../species/same-species.js";
import { numberOfDate } from "../../units/calendar.js";
import { rehydrationVariance } from "./rehydration.js";
import type { WatchedAnimal } from "./watch-group.js";

export interface WatchStudyOptions {
  readonly phaseOn?: ((animalId: string, day: CivilDate) => string | null) | undefined;
}

/** One species of a study as plain numbers, with the way back to its rows. */
export interface WatchedSpecies {
  readonly species: string;
  /** What is weakly believed of its gain, from the profile. */
  readonly weakGain: WeakGain;
  /** What other nurseries know of it. */
  readonly priors: readonly PriorFile[];
  readonly series: readonly AnimalSeries[];
  readonly animals: readonly WatchedAnimal[];
  /** Per animal and value: which row of `daily` it is. */
  readonly rows: readonly (readonly number[])[];
}

/**
 * Turns a study into the plain numbers that `watchGroup` reads, species by
 * species. Days in arrival and in the post-weaning fast are left out: gain after
 * rehydration is not growth, and loss in the fast is expected. Days up to 7 after
 * illness or treatment do not serve as the healthy reference of others; once a
 * record has ended, neither do the 3 days before it nor the last 14 before death.
 *
 * @example watchedSpecies(study)[0].animals.length // 28
 */
export function watchedSpecies(
  study: StudySeries,
  options: WatchStudyOptions = {},
): readonly WatchedSpecies[] {
  const names = [...new Set(study.animals.map((a) => a.animal.species))].sort();
  return names.map((species) => {
    const series = study.animals.filter((a) => a.animal.species === species);
    const typicalAge = middleAdmissionAge(series);
    const both = series.map((s) => toNumbers(study, s, typicalAge, options));
    return {
      species,
      weakGain: weakGainOf(species, study.settings.speciesOverrides),
      priors: (study.settings.priors ?? []).filter((p) => isSameSpecies(p.species, species)),
      series,
      animals: both.map((b) => b.animal),
      rows: both.map((b) => b.rows),
    };
  });
}

/** Middle of the profile's gain for hand-rearing where it is one of %/d, else 1 %/d. */
function weakGainOf(species: string, overrides: StudySeries["settings"]["speciesOverrides"]) {
  const band = profileOf(species, overrides).expectedGain.find(
    (b) => b.setting === "hand-reared" && b.gain.unit === "%/d",
  );
  return { gain: band === undefined ? 0.01 : (band.gain.range[0] + band.gain.range[1]) / 200 };
}

function toNumbers(
  study: StudySeries,
  series: AnimalSeries,
  typicalAge: number,
  options: WatchStudyOptions,
): { animal: WatchedAnimal; rows: number[] } {
  const id = series.animal.animalId;
  const rows: number[] = [];
  const anew: boolean[] = [];
  let arrived = false;
  let fasted = false;
  series.daily.forEach((row, i) => {
    if (!(row.massG > 0)) return;
    const phase = options.phaseOn?.(id, row.feedingDay) ?? null;
    if (phase === "arrival") arrived = true;
    if (phase === "post-weaning fast") fasted = true;
    if (phase === "arrival" || phase === "post-weaning fast") return;
    rows.push(i);
    anew.push(fasted && rows.length > 1);
    fasted = false;
  });
  const n = rows.length;
  const time = new Float64Array(n);
  const day = new Int32Array(n);
  const logMass = new Float64Array(n);
  const knownVariance = new Float64Array(n);
  rows.forEach((i, j) => {
    const row = series.daily[i]!;
    time[j] = row.ageD ?? (row.sinceAdmissionD ?? 0) + typicalAge;
    day[j] = numberOfDate(row.feedingDay);
    logMass[j] = Math.log(row.massG);
    knownVariance[j] =
      Math.max(0, (row.errorG / row.massG) ** 2 - conditionErrors.usual ** 2) +
      (arrived ? rehydrationVariance(j) : 0);
  });
  const unwell = unwellDays(study, series);
  const serves = new Uint8Array(n).fill(1);
  const afterwards = new Uint8Array(n).fill(1);
  const end = recordEnd(series);
  const endDay = end === null ? null : numberOfDate(end);
  const died = dayOfDeath(series);
  for (let j = 0; j < n; j++) {
    const own = day[j]!;
    // While it is in care only what has been seen by then counts.
    if (unwell.some((d) => own >= d && own - d <= unwellAfterD)) serves[j] = 0;
    if (isNearUnwell(unwell, own) || (died !== null && died - own <= beforeDeathD)) {
      afterwards[j] = 0;
    }
  }
  return {
    rows,
    animal: {
      id,
      season: series.animal.season,
      time,
      day,
      logMass,
      knownVariance,
      anew: Uint8Array.from(anew, Number),
      serves,
      ended: endDay === null ? null : { day: endDay, serves: afterwards },
      ageReliable: series.age.usableForWeightForAge,
    },
  };
}

/** Age put in for animals of unknown age at admission: it only places the expected gain. */
function middleAdmissionAge(series: readonly AnimalSeries[]): number {
  const ages = series
    .flatMap((s) => {
      const row = s.daily[0];
      return row?.ageD == null || row.sinceAdmissionD === null
        ? []
        : [row.ageD - row.sinceAdmissionD];
    })
    .sort((a, b) => a - b);
  return ages[ages.length >> 1] ?? 10;
}
