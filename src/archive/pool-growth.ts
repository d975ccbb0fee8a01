import { seasonSummaries } from "../analysis/prior-of-study.js";
import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { type ArrivalSlope, fewestAnimalsOfPrior, priorText } from "../records/prior-file.js";
import { summaryOfHouse, type WeakGain } from "../reference/expectation-prior.js";
import type { PopulationSummary } from "../reference/population-summary.js";
import { combineArrivalSlopes } from "../seasons/arrival-belief.js";
import { usualWindow } from "../seasons/usual-window.js";
import type { Archive } from "./archive-handle.js";
import { growthLevels, type Levels } from "./growth-levels.js";
import { gainSql } from "./sums/gain-by.js";

export interface PoolOptions extends Pick<LongWork, "signal" | "onProgress"> {
  /** The species. Default: the only one of the archive. */
  readonly species?: string;
  /** Ages between which gain is compared, days. Default: the usual ones of the species. */
  readonly ages?: { readonly fromAgeD: number; readonly toAgeD: number };
}

export interface PooledGrowth extends Levels {
  readonly species: string;
  readonly window: { readonly fromAgeD: number; readonly toAgeD: number };
  /** What all houses know of gain, as the text of a prior file; null below 8 animals. */
  readonly prior: string | null;
  readonly priorAnimals: number;
  readonly priorSeasons: number;
  readonly priorFacilities: number;
}

/**
 * The growth of a species across houses. Gains between two ages are worked out animal by
 * animal where the rows are, and only they leave the engine: a mixed model parts what
 * differs between houses, between seasons of a house and between animals. For the prior
 * file every study is summed up by itself, seasons to a house, houses to one summary.
 *
 * @throws UsageError where the species is not there or fewer than two houses have animals
 *   that can be compared.
 * @example (await poolGrowth(archive, { species: "sea otter" })).value.mean.value // 38.9
 */
export async function poolGrowth(
  archive: Archive,
  options: PoolOptions = {},
): Promise<Result<"pool-growth", PooledGrowth>> {
  const species = await speciesOf(archive, options.species);
  const window = options.ages ?? usualWindow(species);
  const gains = await archive.rows(
    `WITH gains AS (${gainSql({ ...window, species: [species] })})
     SELECT s.facility, s.season, s.animal, gain FROM gains JOIN stays AS s USING (animal)
     WHERE s.season IS NOT NULL ORDER BY s.facility, s.season, s.animal`,
  );
  const animals = gains.map((row) => ({
    facility: String(row["facility"]),
    season: String(row["season"]),
    gain: Number(row["gain"]),
  }));
  const levels = growthLevels(animals);
  const houses = await summariesOfHouses(archive, species, options);
  const pooled = houses.length === 0 ? null : overHouses(houses);
  return {
    kind: "pool-growth",
    schema: 1,
    value: {
      ...levels.value,
      species,
      window,
      prior:
        pooled === null || pooled.animals < fewestAnimalsOfPrior
          ? null
          : priorText(pooled, species, arrivalOver(houses)),
      priorAnimals: pooled?.animals ?? 0,
      priorSeasons: pooled?.seasons ?? 0,
      priorFacilities: houses.length,
    },
    method: levels.method,
    basis: levels.basis,
    diagnostics: levels.diagnostics,
    notices: [...levels.notices, ...leftOut(houses, levels.value)],
  };
}

async function speciesOf(archive: Archive, asked: string | undefined): Promise<string> {
  const rows = await archive.rows(
    "SELECT DISTINCT lower(species) AS species FROM stays ORDER BY 1",
  );
  const all = rows.map((row) => String(row["species"]));
  const found = asked === undefined ? all : all.filter((each) => each === asked.toLowerCase());
  if (found.length === 1) return found[0]!;
  throw new UsageError({
    needed: "one species of the archive",
    came: asked === undefined ? `it has ${all.length}` : `"${asked}" was given`,
    where: "pool, species",
    todo: `Choose one of: ${all.join(", ") || "none yet"}.`,
  });
}

interface House {
  readonly facility: string;
  readonly weakGain: WeakGain;
  readonly seasons: readonly PopulationSummary[];
  /** Of each of its studies that tells it. */
  readonly arrivals: readonly ArrivalSlope[];
}

/** Each study is read back by itself and summed up season by season: no two are in memory. */
async function summariesOfHouses(
  archive: Archive,
  species: string,
  { signal, onProgress }: PoolOptions,
): Promise<House[]> {
  const rows = await archive.rows(
    `SELECT DISTINCT facility, study FROM stays WHERE lower(species) = '${species.replaceAll("'", "''")}' ORDER BY 1, 2`,
  );
  const houses = new Map<string, House>();
  for (const [i, row] of rows.entries()) {
    stopIfCancelled(signal);
    const facility = String(row["facility"]);
    onProgress?.({ done: i, total: rows.length, doing: `summing up ${facility}` });
    const chosen = { facilities: [facility], studies: [String(row["study"])], species: [species] };
    const found = seasonSummaries(await archive.study(chosen), species);
    if (found === null) continue;
    const { seasons = [], arrivals = [] } = houses.get(facility) ?? {};
    houses.set(facility, {
      facility,
      weakGain: found.weakGain,
      seasons: [...seasons, ...found.seasons],
      arrivals: [...arrivals, ...(found.arrival === null ? [] : [found.arrival])],
    });
  }
  return [...houses.values()];
}

function overHouses(houses: readonly House[]): PopulationSummary {
  const { weakGain } = houses[0]!;
  const each = houses.map((house) => summaryOfHouse(weakGain, house.seasons));
  // One house differs from the next by more than one season of a house from another.
  return each.length === 1 ? each[0]! : summaryOfHouse(weakGain, each, "nurseries");
}

function arrivalOver(houses: readonly House[]): ArrivalSlope | null {
  const each = houses.flatMap((h) => combineArrivalSlopes(h.arrivals, "one house") ?? []);
  return combineArrivalSlopes(each, "houses");
}

function leftOut(houses: readonly House[], levels: Levels): Notice[] {
  const compared = new Set(levels.facilities.map((f) => f.facility));
  return houses
    .filter((house) => !compared.has(house.facility))
    .map(({ facility }) => notice("pool-facility-left-out", "info", { facility, needed: 6 }));
}
