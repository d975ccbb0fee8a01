import { seededRandom } from "../../../src/core/random.js";
import { animalLevels } from "../../../src/flags/levels/animal-levels.js";
import type { AnimalLevel } from "../../../src/flags/levels/level.js";
import { parseStudy } from "../../../src/records/parse-study.js";
import type { Study } from "../../../src/records/study.js";
import { buildSeries } from "../../../src/series/build-series.js";
import { filesOf, firstDay, type Kept, nurseryPages, type Pages } from "./nursery-pages.js";
import { type PlantedDanger, plantedDangers, withDanger } from "./planted-dangers.js";

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

/** Pages at 06:00 and 20:00, from the fourth day on. */
function pagesOf({ days }: Pages): number[] {
  return Array.from({ length: days - 4 }, (_, d) => d + 4).flatMap((d) => [
    firstDay + d * dayMs,
    firstDay + d * dayMs + 14 * hourMs,
  ]);
}

/** A study as it stood at an instant: nothing later is in it. */
function cutAt(study: Study, at: number): Study {
  const past = <T extends { readonly at: number }>(rows: Iterable<T>) =>
    [...rows].filter((r) => r.at <= at);
  const { tables } = study;
  return {
    ...study,
    tables: {
      ...tables,
      animals: tables.animals.filter((a) => a.admittedAt === null || a.admittedAt <= at),
      weighings: past(tables.weighings),
      feeds: past(tables.feeds),
      observations: past(tables.observations),
    },
  };
}

export interface HealthyCount {
  /** Weeks of animals after their first 7 days, and pages among them. */
  readonly weeks: number;
  readonly pages: number;
  /** Openings of danger: a page that has it where the page before had not, by reason. */
  readonly dangers: Readonly<Record<string, number>>;
  readonly dangerPages: number;
  readonly measureFirst: number;
  readonly silent: number;
  /** The same in the first 7 days. */
  readonly arrival: { readonly weeks: number; readonly dangers: Readonly<Record<string, number>> };
  /** Of measure first: by reason. */
  readonly measures: Readonly<Record<string, number>>;
}

/** Levels of healthy animals, page by page, each made from what was written by then. */
export function healthyLevels(
  seed: number,
  kept: Kept,
  size?: number,
  days?: number,
): HealthyCount {
  const pages = nurseryPages(seed, kept, size, days);
  const study = parseStudy(filesOf(pages));
  const admitted = new Map(pages.animals.map((a) => [a.id, firstDay + a.admittedMin * 60_000]));
  const before = new Map<string, boolean>();
  const dangers: Record<string, number> = {};
  const early: Record<string, number> = {};
  const measures: Record<string, number> = {};
  let counted = 0;
  let dangerPages = 0;
  let measureFirst = 0;
  let silent = 0;
  let earlyPages = 0;
  for (const at of pagesOf(pages)) {
    for (const level of animalLevels(buildSeries(cutAt(study, at)), { at })) {
      const id = level.animalId;
      const isDanger = level.level === "danger";
      const settled = at - admitted.get(id)! >= 7 * dayMs;
      if (isDanger && before.get(id) !== true) {
        const into = settled ? dangers : early;
        const what = level.reasons[0]!.what;
        into[what] = (into[what] ?? 0) + 1;
      }
      before.set(id, isDanger);
      if (!settled) {
        earlyPages++;
        continue;
      }
      counted++;
      if (isDanger) dangerPages++;
      if (level.reasons.some((r) => r.what === "silence")) silent++;
      if (level.level === "measure first") {
        measureFirst++;
        const what = level.reasons[0]!.what;
        measures[what] = (measures[what] ?? 0) + 1;
      }
    }
  }
  return {
    weeks: counted / 14,
    pages: counted,
    dangers,
    dangerPages,
    measureFirst,
    silent,
    arrival: { weeks: earlyPages / 14, dangers: early },
    measures,
  };
}

export interface PlantedResult {
  readonly danger: PlantedDanger;
  readonly seed: number;
  readonly animalId: string;
  readonly at: number;
  readonly found: boolean;
  readonly level: AnimalLevel;
}

/** Plants every danger once in one nursery, each in its own copy of the pages, and reads the next page. */
export function plantedLevels(seed: number, kept: Kept, size?: number, days?: number) {
  const pages = nurseryPages(seed, kept, size, days);
  const random = seededRandom(seed).split(9);
  return plantedDangers.map((danger, i): PlantedResult => {
    const young = (page: number) => pages.animals.filter((a) => page - a.admittedMin > 4 * 1440);
    const all = pagesOf(pages).filter((at) => young((at - firstDay) / 60_000).length > 0);
    const at = all[Math.floor(random.uniform() * all.length)]!;
    const page = (at - firstDay) / 60_000;
    const animals = young(page);
    const { id } = animals[Math.floor(random.uniform() * animals.length)]!;
    const study = parseStudy(filesOf(withDanger(pages, danger, id, page, seed * 100 + i)));
    const level = animalLevels(buildSeries(study), { at }).find((l) => l.animalId === id)!;
    return { danger, seed, animalId: id, at, found: level.level === "danger", level };
  });
}
