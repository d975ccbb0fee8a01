import { UsageError } from "../core/usage-error.js";
import { closestName } from "../records/closest-name.js";
import type { Study } from "../records/study.js";

/**
 * Refuses a species or a season that the animals table does not have, before
 * anything is computed: a slip in a name costs no time.
 *
 * @throws UsageError naming what comes closest.
 * @example requireSeason(study, "sea otter", "2O24") // throws: Is 2024 meant?
 */
export function requireSeason(study: Study, species: string | null, season: string | null): void {
  const { animals } = study.tables;
  const kinds = new Set(animals.map((a) => a.species));
  if (species !== null && !kinds.has(species)) throw unknown("species", species, kinds);
  const seasons = new Set(
    animals
      .filter((a) => species === null || a.species === species)
      .flatMap((a) => (a.season === null ? [] : [a.season])),
  );
  if (season !== null && !seasons.has(season)) throw unknown("season", season, seasons);
}

function unknown(what: string, came: string, known: ReadonlySet<string>): UsageError {
  const near = closestName(came.trim(), new Set(known));
  const all = [...known].sort().join(", ");
  return new UsageError({
    needed: `a ${what} of the animals table`,
    came: `"${came}"`,
    where: `the ${what} asked about`,
    todo: near === null ? `Use one of: ${all}.` : `Is ${near} meant? Known: ${all}.`,
  });
}
