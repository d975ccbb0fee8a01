import { countOpenings } from "../../../src/flags/animal-day/episode-rule.js";
import { defaultCalibration } from "../../../src/flags/budget/default-calibration.js";
import type { PopulationSummary } from "../../../src/reference/population-summary.js";
import { daysToFlag, openDays, strengths, type WorldRun, watchNursery } from "./watch-world.js";
import { drawNursery, type Nursery, type World } from "./world.js";

/** What is known before the season that is looked at. */
export type KnownBefore = "nothing" | "two seasons" | "prior file" | "20 % low" | "20 % high";

/** One size of group, with what is known before, and what befalls the affected animal. */
export interface EarlyCell {
  readonly animals: number;
  readonly before: KnownBefore;
  readonly befalls: readonly Befallen[];
}

/** What an affected animal gains from one day on, and until when a flag is waited for. */
export const befallings = {
  halved: { share: 0.5, waitD: 14 },
  slight: { share: 0.85, waitD: 30 },
  stopped: { share: 0, waitD: 14 },
  fallen: { share: 1, fall: { by: 0.2, overD: 5 }, waitD: 14 },
} as const;
export type Befallen = keyof typeof befallings;

const all: readonly Befallen[] = ["halved", "slight", "stopped", "fallen"];

export const earlyCells: readonly EarlyCell[] = [
  { animals: 1, before: "prior file", befalls: all },
  { animals: 2, before: "prior file", befalls: ["halved"] },
  { animals: 3, before: "prior file", befalls: ["halved"] },
  { animals: 5, before: "prior file", befalls: ["halved"] },
  { animals: 10, before: "prior file", befalls: all },
  { animals: 25, before: "prior file", befalls: ["halved"] },
  { animals: 1, before: "nothing", befalls: ["halved"] },
  { animals: 10, before: "nothing", befalls: ["halved"] },
  { animals: 1, before: "two seasons", befalls: ["halved", "slight"] },
  { animals: 1, before: "20 % low", befalls: [] },
  { animals: 1, before: "20 % high", befalls: [] },
  { animals: 10, before: "20 % low", befalls: [] },
  { animals: 10, before: "20 % high", befalls: [] },
];

export const budgetsAsked = [0.5, 1, 2, 5] as const;

/** Factors on the thresholds of 2 asked: where a realised rate of 2 lies is read off between them. */
export const scales: readonly number[] = Array.from({ length: 25 }, (_, i) => 2 ** ((i - 12) / 10));

/** Days after the onset by which an animal is counted as found. */
export const foundBy = [1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 17, 21, 25, 30] as const;

/** Sums over nurseries: two of them are added number by number. */
export interface EarlySums {
  nurseries: number;
  judgedDays: number;
  inCareDays: number;
  openDays: number;
  /** Openings at each number asked, with their squares and products by nursery. */
  openings: number[];
  squares: number[];
  byDays: number[];
  daysSquared: number;
  /** Openings at 2 asked with the thresholds times each scale. */
  atScale: number[];
  /** Affected animals, and how many were found, by scale and then by day. */
  affected: Partial<Record<Befallen, { n: number; found: number[][] }>>;
  /** The same for halved gain of one of the first three animals of the season. */
  firstThree: { n: number; foundBy14: number[] };
}

export const noSums = (): EarlySums => ({
  nurseries: 0,
  judgedDays: 0,
  inCareDays: 0,
  openDays: 0,
  openings: budgetsAsked.map(() => 0),
  squares: budgetsAsked.map(() => 0),
  byDays: budgetsAsked.map(() => 0),
  daysSquared: 0,
  atScale: scales.map(() => 0),
  affected: {},
  firstThree: { n: 0, foundBy14: scales.map(() => 0) },
});

/** Draws nurseries of a world for a cell and watches them. */
export class EarlyWorld {
  constructor(
    private readonly world: World,
    private readonly cell: EarlyCell,
    private readonly priors: Partial<Record<KnownBefore, readonly PopulationSummary[]>>,
    private readonly key: number,
  ) {}

  /** Adds one healthy nursery. */
  addHealthy(sums: EarlySums): void {
    const runs = this.watch({}, sums.nurseries);
    const days = runs.reduce((n, r) => n + r.judgedDays, 0);
    sums.nurseries++;
    sums.judgedDays += days;
    sums.daysSquared += days * days;
    sums.inCareDays += runs.reduce((n, r) => n + Math.max(0, r.inCare), 0);
    budgetsAsked.forEach((asked, i) => {
      let count = 0;
      for (const r of runs) {
        const s = strengths(r, defaultCalibration, asked);
        count += countOpenings(s);
        if (asked !== 2) continue;
        sums.openDays += openDays(r, s);
        scales.forEach((scale, k) => {
          sums.atScale[k]! += countOpenings(s, scale);
        });
      }
      sums.openings[i]! += count;
      sums.squares[i]! += count * count;
      sums.byDays[i]! += count * days;
    });
  }

  /** Adds one nursery with one affected animal, watched as long as its flag is waited for. */
  addAffected(sums: EarlySums, what: Befallen): void {
    const known = sums.affected[what];
    const own = known ?? { n: 0, found: scales.map(() => foundBy.map(() => 0)) };
    sums.affected[what] = own;
    const { waitD, ...short } = befallings[what];
    const affected = { animal: 0, fromD: 14 + (own.n % 21), ...short };
    const key = 40_000 + 10_000 * all.indexOf(what) + own.n;
    const run = this.watch({ affected }, key, waitD).find((r) => r.shortFrom !== null)!;
    const s = strengths(run, defaultCalibration, 2);
    own.n++;
    const first = what === "halved" && run.first && this.cell.animals > 3;
    if (first) sums.firstThree.n++;
    scales.forEach((scale, k) => {
      const delay = daysToFlag(run, s, scale);
      foundBy.forEach((day, j) => {
        if (delay <= day) own.found[k]![j]!++;
      });
      if (first && delay <= 14) sums.firstThree.foundBy14[k]!++;
    });
  }

  private watch(nursery: Omit<Nursery, "seasons">, key: number, waitD?: number): WorldRun[] {
    const { animals, before } = this.cell;
    const seasons = before === "two seasons" ? [8, 8, animals] : [animals];
    const drawn = drawNursery(this.world, { seasons, ...nursery }, this.key + key);
    const priors = this.priors[before];
    return watchNursery(drawn, priors === undefined ? {} : { priors }, waitD);
  }
}
