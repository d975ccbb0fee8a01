import type { Matrix } from "../linear-algebra/matrix.js";
import { latestFirst, type SurvivalData } from "./survival-data.js";

/** How events at the same time are treated. `"exact"` is the discrete conditional likelihood. */
export type Ties = "efron" | "breslow" | "exact";

/** What one event time contributes at given coefficients. */
export interface EventTime {
  readonly time: number;
  readonly stratum: number;
  readonly deaths: readonly number[];
  readonly logLikelihood: number;
  readonly score: Float64Array;
  /** p x p, row by row. */
  readonly information: Float64Array;
  /** Increment of the baseline hazard, and the share of it that falls on those with the event. */
  readonly hazard: number;
  readonly hazardOfDeaths: number;
  /** Covariate mean of those at risk, averaged over the tied steps (for residuals). */
  readonly mean: Float64Array;
}

/**
 * Walks the event times of each stratum from the latest to the earliest, growing
 * the set at risk, and hands every contribution to `visit`.
 */
export function walkEventTimes(
  data: SurvivalData,
  x: Matrix,
  strata: readonly number[],
  eta: ArrayLike<number>,
  ties: Ties,
  visit: (e: EventTime) => void,
): void {
  const p = x.cols;
  const order = latestFirst(data);
  const layers = [...new Set(strata)];
  for (const stratum of layers) {
    const rows = order.filter((i) => strata[i] === stratum);
    const leaving =
      data.entry === undefined
        ? []
        : rows.slice().sort((i, j) => data.entry![j]! - data.entry![i]!);
    const sums = new Sums(p);
    const inside = new Set<number>();
    let gone = 0;
    for (let a = 0; a < rows.length; ) {
      const time = data.time[rows[a]!]!;
      const deaths: number[] = [];
      while (a < rows.length && data.time[rows[a]!] === time) {
        const i = rows[a]!;
        sums.add(x, i, Math.exp(eta[i]!), 1);
        inside.add(i);
        if (data.event[i]) deaths.push(i);
        a++;
      }
      // Rows that came under observation only at or after this time are not at risk yet.
      while (gone < leaving.length && data.entry![leaving[gone]!]! >= time) {
        const i = leaving[gone]!;
        if (inside.delete(i)) sums.add(x, i, Math.exp(eta[i]!), -1);
        gone++;
      }
      if (deaths.length === 0) continue;
      visit(
        ties === "exact"
          ? exactTime(time, stratum, x, eta, deaths, inside)
          : tiedTime(time, stratum, x, eta, deaths, sums, ties),
      );
    }
  }
}

class Sums {
  s0 = 0;
  readonly s1: Float64Array;
  readonly s2: Float64Array;
  constructor(readonly p: number) {
    this.s1 = new Float64Array(p);
    this.s2 = new Float64Array(p * p);
  }
  add(x: Matrix, i: number, r: number, sign: number): void {
    const { p } = this;
    this.s0 += sign * r;
    for (let j = 0; j < p; j++) {
      const f = sign * r * x.data[i * p + j]!;
      this.s1[j]! += f;
      for (let k = 0; k < p; k++) this.s2[j * p + k]! += f * x.data[i * p + k]!;
    }
  }
}

function tiedTime(
  time: number,
  stratum: number,
  x: Matrix,
  eta: ArrayLike<number>,
  deaths: readonly number[],
  all: Sums,
  ties: Ties,
): EventTime {
  const p = x.cols;
  const d = deaths.length;
  const own = new Sums(p);
  const score = new Float64Array(p);
  const information = new Float64Array(p * p);
  const mean = new Float64Array(p);
  let logLikelihood = 0;
  for (const i of deaths) {
    own.add(x, i, Math.exp(eta[i]!), 1);
    logLikelihood += eta[i]!;
    for (let j = 0; j < p; j++) score[j]! += x.data[i * p + j]!;
  }
  let hazard = 0;
  let hazardOfDeaths = 0;
  for (let step = 0; step < d; step++) {
    const share = ties === "efron" ? step / d : 0;
    const s0 = all.s0 - share * own.s0;
    logLikelihood -= Math.log(s0);
    hazard += 1 / s0;
    hazardOfDeaths += (1 - share) / s0;
    for (let j = 0; j < p; j++) {
      const mj = (all.s1[j]! - share * own.s1[j]!) / s0;
      score[j]! -= mj;
      mean[j]! += mj / d;
      for (let k = 0; k < p; k++) {
        const mk = (all.s1[k]! - share * own.s1[k]!) / s0;
        information[j * p + k]! += (all.s2[j * p + k]! - share * own.s2[j * p + k]!) / s0 - mj * mk;
      }
    }
  }
  return { time, stratum, deaths, logLikelihood, score, information, hazard, hazardOfDeaths, mean };
}

/** Sums over all sets of d rows at risk, by adding one row at a time. */
function exactTime(
  time: number,
  stratum: number,
  x: Matrix,
  eta: ArrayLike<number>,
  deaths: readonly number[],
  inside: ReadonlySet<number>,
): EventTime {
  const p = x.cols;
  const d = deaths.length;
  const e = new Float64Array(d + 1);
  const g = Array.from({ length: d + 1 }, () => new Float64Array(p));
  const h = Array.from({ length: d + 1 }, () => new Float64Array(p * p));
  e[0] = 1;
  // Each factor is scaled by the largest so that products of many cannot overflow.
  let top = Number.NEGATIVE_INFINITY;
  for (const i of inside) top = Math.max(top, eta[i]!);
  let seen = 0;
  for (const i of inside) {
    seen++;
    const r = Math.exp(eta[i]! - top);
    for (let k = Math.min(d, seen); k >= 1; k--) {
      for (let a = 0; a < p; a++) {
        const xa = x.data[i * p + a]!;
        for (let b = 0; b < p; b++) {
          const xb = x.data[i * p + b]!;
          h[k]![a * p + b]! +=
            r *
            (h[k - 1]![a * p + b]! + xa * g[k - 1]![b]! + xb * g[k - 1]![a]! + xa * xb * e[k - 1]!);
        }
      }
      for (let a = 0; a < p; a++) {
        g[k]![a]! += r * (g[k - 1]![a]! + x.data[i * p + a]! * e[k - 1]!);
      }
      e[k]! += r * e[k - 1]!;
    }
  }
  const total = e[d]!;
  let logLikelihood = -Math.log(total) - d * top;
  const score = new Float64Array(p);
  const information = new Float64Array(p * p);
  for (const i of deaths) {
    logLikelihood += eta[i]!;
    for (let j = 0; j < p; j++) score[j]! += x.data[i * p + j]!;
  }
  const mean = g[d]!.map((v) => v / total / d);
  for (let j = 0; j < p; j++) {
    score[j]! -= g[d]![j]! / total;
    for (let k = 0; k < p; k++) {
      information[j * p + k] =
        h[d]![j * p + k]! / total - (g[d]![j]! / total) * (g[d]![k]! / total);
    }
  }
  const hazard = Number.NaN;
  return {
    time,
    stratum,
    deaths,
    logLikelihood,
    score,
    information,
    hazard,
    hazardOfDeaths: hazard,
    mean,
  };
}
