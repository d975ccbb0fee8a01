import { UsageError } from "../core/usage-error.js";
import { causalPhases } from "../flags/watch/causal-phases.js";
import { watchGroup } from "../flags/watch/watch-group.js";
import { watchedSpecies } from "../flags/watch/watch-study.js";
import { closestName } from "../records/closest-name.js";
import { type ArrivalSlope, fewestAnimalsOfPrior, priorText } from "../records/prior-file.js";
import type { Study } from "../records/study.js";
import { summaryOfHouse, type WeakGain } from "../reference/expectation-prior.js";
import type { PopulationSummary } from "../reference/population-summary.js";
import { adjustments, fitAdjustedModel } from "../seasons/adjusted-model.js";
import { arrivalSlope } from "../seasons/arrival-belief.js";
import { enoughAnimals, seasonGains } from "../seasons/season-gain.js";
import { windowOfStudy } from "../seasons/window-of-study.js";
import type { StudySeries } from "../series/animal-series.js";
import { buildSeries } from "../series/build-series.js";
import { profileOf } from "../species/profile-of.js";
import { isVouched } from "./vouch.js";

/**
 * The text of a study's prior file for one of its species, and what it holds in words:
 * from its own weighings alone. Prior files that the study itself uses are left out, so
 * that what came from others is never handed on as one's own.
 *
 * @throws UsageError for an unknown species, several without a choice, or too few animals.
 * @example priorOfStudy(study, "sea otter").said // "sea otter: 24 animals in 3 seasons, ..."
 */
export function priorOfStudy(
  study: Study,
  species: string | undefined,
): { readonly text: string; readonly said: string } {
  const series = buildSeries(study);
  const all = [...new Set(series.animals.map((a) => a.animal.species))].sort();
  const chosen =
    species === undefined && all.length === 1
      ? all[0]
      : all.find((each) => each.toLowerCase() === species?.toLowerCase());
  if (chosen === undefined) {
    const near = species === undefined ? null : closestName(species.trim(), new Set(all));
    throw new UsageError({
      needed: "one species of the study",
      came: species === undefined ? `it has ${all.length}` : `"${species}" was given`,
      where: "gramline prior, --species",
      todo: `${near === null ? "" : `Is ${near} meant? `}${all.length === 0 ? "No animal is in its tables yet." : `Choose one of: ${all.join(", ")}.`}`,
    });
  }
  if (species === undefined && !isVouched(chosen) && profileOf(chosen).isTemplate)
    throw new UsageError({
      needed: "your word that the name of the species names nobody, since it goes into the file",
      came: `"${chosen}", which gramline does not know`,
      where: "gramline prior",
      todo: `Give it yourself: --species "${chosen}".`,
    });
  const found = summariesOf(series, chosen);
  if (found === null) {
    throw new UsageError({
      needed: `weighings of "${chosen}" after the arrival phase`,
      came: "none",
      where: "gramline prior",
      todo: "Run `gramline check` on the folder: it says what was set aside.",
    });
  }
  const summary = summaryOfHouse(found.weakGain, found.seasons);
  return {
    text: priorText(summary, chosen, found.arrival),
    said: `${chosen}: ${summary.animals} animals in ${summary.seasons} seasons, as numbers of the whole group.${saidOfArrival(found.arrival)}`,
  };
}

/** What each season of a study shows of one species, and what is weakly believed of it. */
export interface SeasonSummaryOfGain {
  readonly weakGain: WeakGain;
  readonly seasons: readonly PopulationSummary[];
  /** What a later arrival does to gain within its seasons; null where too few animals tell it. */
  readonly arrival: ArrivalSlope | null;
}

/**
 * The gain of one species in a study, season by season, as numbers of the group; null where
 * no animal of it was weighed after its arrival phase.
 *
 * @param species compared without regard to capitals.
 * @example seasonSummaries(study, "sea otter")?.seasons.length // 4
 */
export function seasonSummaries(study: Study, species: string): SeasonSummaryOfGain | null {
  const series = buildSeries(study);
  const written = series.animals.find(
    (a) => a.animal.species.toLowerCase() === species.toLowerCase(),
  );
  return written === undefined ? null : summariesOf(series, written.animal.species);
}

function summariesOf(series: StudySeries, species: string): SeasonSummaryOfGain | null {
  const only = { ...series, animals: series.animals.filter((a) => a.animal.species === species) };
  const [watched] = watchedSpecies(only, { phaseOn: causalPhases(only) });
  const days = watched?.animals.flatMap((a) => a.day.at(-1) ?? []) ?? [];
  if (watched === undefined || days.length === 0) return null;
  const lastDay = days.reduce((a, b) => Math.max(a, b));
  const options = { weakGain: watched.weakGain };
  const seasons = watchGroup(watched.animals, lastDay + 1, options, () => {}, lastDay + 2);
  return {
    weakGain: watched.weakGain,
    seasons: seasons.map((s) => s.summary()),
    arrival: arrivalOf(only, species),
  };
}

/** The slope of gain on arrival over the ages at which seasons are compared. */
function arrivalOf(series: StudySeries, species: string): ArrivalSlope | null {
  const { window } = windowOfStudy(series, species);
  const gains = seasonGains(series, { species, window });
  const seasons = enoughAnimals(gains);
  const animals = gains.animals.filter((a) => seasons.includes(a.season));
  if (animals.length < fewestAnimalsOfPrior) return null;
  // With few animals arrival mass takes the freedom that the slope needs.
  const told = [adjustments, ["arrival age"] as const].flatMap((by) => {
    const model = fitAdjustedModel(animals, seasons, by);
    return (model === null ? null : arrivalSlope(model)) ?? [];
  });
  return told[0] ?? null;
}

const saidOfArrival = (arrival: ArrivalSlope | null) =>
  arrival === null || arrival.animals < fewestAnimalsOfPrior
    ? " What a later arrival does to gain is not in it: too few animals tell it."
    : ` A day later at arrival changes gain by ${percentText(arrival.perDay)} % (give or take ${percentText(arrival.sd)}, ${arrival.animals} animals).`;

const percentText = (share: number) => String(Number((100 * share).toFixed(2)));
