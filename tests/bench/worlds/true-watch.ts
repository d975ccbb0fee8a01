import { shownEvidence } from "../../../src/flags/watch/judge-weighing.js";
import { daysJudged } from "../../../src/flags/watch/judged-days.js";
import { ownChange } from "../../../src/flags/watch/own-change.js";
import { watchSettings } from "../../../src/flags/watch/watch-options.js";
import { sharedChange } from "../../../src/flags/watch/watched-season.js";
import { gainKnotsD } from "../../../src/reference/expectation-prior.js";
import { invertSymmetric } from "../../../src/stats/linear-algebra/small-matrix.js";
import { slopeAt } from "../../../src/stats/state-space/hat-slopes.js";
import { levelShift } from "../../../src/stats/state-space/level-shift.js";
import { MixedSeries } from "../../../src/stats/state-space/mixed-series.js";
import { slopeChange } from "../../../src/stats/state-space/slope-change.js";
import {
  type MixturePrior,
  type SlopeBelief,
  SlopeMixture,
} from "../../../src/stats/state-space/slope-mixture.js";
import { watchedOf } from "./watch-world.js";
import { drawTrueNursery, type House, type Nursery, type World } from "./world.js";

/**
 * The watch of one who knows what no keeper knows: how far weighings and gains of this
 * nursery scatter, and either its very mean gain, or how the gains of its world's
 * nurseries differ. What he does not find, no prior file makes anybody find.
 */
export type Knows = "this nursery" | "its kind";

const size = gainKnotsD.length;
/** The mean gain at the knots is his to within 1 %. */
const surely = 0.01;

/** What is looked for is what the library looks for. */
const change = { lookBack: watchSettings({}).lookBackD, ...ownChange };

/** Draws and watches nurseries of a world, by one who knows them or their kind. */
export class TrueWatch {
  private readonly kind: readonly SlopeBelief[];

  /** @param kindOf The world whose nurseries he knows; another one where his files come from there. */
  constructor(
    private readonly world: World,
    private readonly knows: Knows,
    kindOf: World = world,
  ) {
    this.kind = knows === "its kind" ? beliefsOf(kindOf) : [];
  }

  /** Evidence of a slowed gain of each animal, or of the affected one alone, up to `waitD` days after. */
  animals(nursery: Nursery, seed: number, waitD = Number.POSITIVE_INFINITY): TrueRun[] {
    const { works, mixture, steps } = this.begin(nursery, seed);
    const onset = works.find((x) => x.shortFrom !== null)?.shortFrom ?? null;
    for (const { day, today } of steps(onset === null ? waitD : onset + waitD)) {
      mixture.settle();
      for (const x of today) {
        if (x.series.count < 2 || (onset !== null && x.shortFrom === null)) continue;
        const found = slopeChange(mixture, x.series, change);
        x.days.push(day);
        x.strengths.push(found === null ? 0 : shownEvidence(found.evidence));
      }
    }
    return works.map(({ days, strengths, shortFrom, end }) => ({
      days,
      strengths,
      shortFrom,
      judgedDays: daysJudged(days, end),
    }));
  }

  /** Evidence, day by day, that all of the season gain less from its first day on. */
  together(nursery: Nursery, seed: number, untilDay = Number.POSITIVE_INFINITY): number[] {
    const { works, mixture, steps } = this.begin(nursery, seed);
    const evidence: number[] = [];
    for (const { day } of steps(untilDay)) {
      mixture.settle();
      const seen = works.filter((x) => x.series.count >= 2);
      if (seen.filter((x) => day - x.day[x.next - 1]! < 7).length < 2) continue;
      const along = new Float64Array(size);
      for (const { series: s } of seen)
        for (let i = 0; i < size; i++) along[i]! += s.basis[(s.count - 1) * size + i]!;
      evidence.push(shownEvidence(levelShift(mixture, along, sharedChange.missing)?.evidence ?? 0));
    }
    return evidence;
  }

  private begin(nursery: Nursery, seed: number) {
    const { house, ofSeason, animals } = drawTrueNursery(this.world, nursery, seed);
    const mixture = new SlopeMixture(this.priorOf(house, ofSeason));
    const works = animals.map((a) => ({
      ...watchedOf(a),
      end: a.day.at(-1) ?? a.arrival,
      shortFrom: a.shortFrom,
      series: new MixedSeries(),
      next: 0,
      days: [] as number[],
      strengths: [] as number[],
    }));
    type Work = (typeof works)[number];
    const last = Math.max(...works.map((x) => x.day.at(-1) ?? 0));
    function* steps(untilDay: number): Generator<{ day: number; today: Work[] }> {
      for (let day = 0; day <= Math.min(untilDay, last); day++) {
        const today = works.filter((x) => x.day[x.next] === day);
        for (const x of today) read(mixture, x, x.next++);
        yield { day, today };
      }
    }
    return { works, mixture, steps };
  }

  private priorOf(h: House, ofSeason: number): MixturePrior {
    // Scales show steps of 5 g, at some 3.5 kg.
    const variance = h.error ** 2 + h.gut ** 2 + (5 / 3500) ** 2 / 12;
    const parameters = {
      noiseSd: Math.sqrt(variance),
      lastingShare: Math.max(0.02, h.gut ** 2 / variance),
      wander: Math.max(0.005, h.wander),
      spread: h.spread,
    };
    const beliefs = this.knows === "its kind" ? this.kind : [beliefIn(1, [meanGain(h, ofSeason)])];
    return { knots: gainKnotsD, parameters: [parameters], weights: [1], beliefs };
  }
}

/** One animal as it was judged on the days of its weighings. */
export interface TrueRun {
  readonly days: readonly number[];
  readonly strengths: readonly number[];
  readonly shortFrom: number | null;
  readonly judgedDays: number;
}

interface Read {
  readonly time: ArrayLike<number>;
  readonly logMass: ArrayLike<number>;
  readonly knownVariance: ArrayLike<number>;
  readonly series: MixedSeries;
}

/** Takes in one weighing as the library does: one far off is pulled in. */
function read(mixture: SlopeMixture, x: Read, j: number): void {
  const { series: s } = x;
  const t = x.time[j]!;
  const variance = x.knownVariance[j]!;
  const before = s.count === 0 ? t : s.time[s.count - 1]!;
  const middle = 0.5 * (before + t);
  const scale = Math.max(0.003, slopeAt(mixture.prior.knots, mixture.slopes, middle));
  let y = x.logMass[j]!;
  if (s.count > 0) {
    const { mean, sd } = mixture.predict(s, t, variance, scale);
    y = mean + Math.max(-3.5, Math.min(3.5, (y - mean) / sd)) * sd;
  }
  mixture.append(s, t, y, variance, scale, true);
}

/** Relative gain at the knots of an animal of this nursery that is like the middle one. */
export function meanGain(house: House, ofSeason: number): Float64Array {
  let age = 8.5;
  const adult = Math.log(19_000);
  const y0 = Math.log(1900) + house.gain * age;
  let y = y0;
  const gain = house.gain * ofSeason;
  const gainAt = (t: number) => {
    if (house.law === "gompertz") return gain * Math.exp(-house.fade * t);
    if (house.law === "logistic") return (gain * Math.max(0.1, 1 - Math.exp(y - adult))) / 0.9;
    return gain * Math.exp(y0 - y);
  };
  return Float64Array.from(gainKnotsD, (knot) => {
    for (; age < knot; age++) y += gainAt(age);
    return gainAt(knot);
  });
}

/** What one knows who has seen hundreds of a world's nurseries: a belief for each law. */
function beliefsOf(world: World): readonly SlopeBelief[] {
  const byLaw = new Map<string, Float64Array[]>();
  const draws = 900;
  for (let i = 0; i < draws; i++) {
    const { house, ofSeason } = drawTrueNursery(world, { seasons: [1] }, 770_000 + i);
    const gain = meanGain(house, ofSeason);
    byLaw.set(house.law, [...(byLaw.get(house.law) ?? []), gain]);
  }
  return [...byLaw.values()].map((rows) => beliefIn(rows.length / draws, rows));
}

/** The normal belief with mean and covariance of these gains. */
function beliefIn(weight: number, rows: readonly Float64Array[]): SlopeBelief {
  const n = rows.length;
  const mean = new Float64Array(size);
  for (const r of rows) for (let i = 0; i < size; i++) mean[i]! += r[i]! / n;
  const covariance = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++)
      for (const r of rows)
        covariance[i * size + j]! += ((r[i]! - mean[i]!) * (r[j]! - mean[j]!)) / n;
    covariance[i * size + i]! += (surely * mean[i]!) ** 2;
  }
  const precision = invertSymmetric(covariance, size)!;
  const pulled = new Float64Array(size);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) pulled[i]! += precision[i * size + j]! * mean[j]!;
  return { weight, informed: true, precision, pulled };
}
