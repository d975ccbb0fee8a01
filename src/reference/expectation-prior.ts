import { priorAgesD } from "../series/animal-series.js";
import {
  factorInPlace,
  invertSymmetric,
  logDeterminant,
  solveLowerInPlace,
} from "../stats/linear-algebra/small-matrix.js";
import type { MixturePrior, SlopeBelief } from "../stats/state-space/slope-mixture.js";
import type { WanderingParameters } from "../stats/state-space/wandering-slope.js";
import type { LogNormal, PopulationSummary } from "./population-summary.js";

/** Ages in days at which the mean gain has its knots: closer where it changes faster. */
export const gainKnotsD: readonly number[] = priorAgesD;

/** What is weakly believed of a species before anything is weighed. */
export interface WeakGain {
  /** Relative gain per day. */
  readonly gain: number;
}

/** How much of the expectation is borrowed, in animals that would say as much about mean gain. */
export interface Borrowed {
  readonly fromNurseries: number;
  readonly fromSeasons: number;
  /** What it was borrowed from. */
  readonly nurseries: number;
  readonly nurseryAnimals: number;
  readonly seasons: number;
  readonly seasonAnimals: number;
}

export interface ExpectationPrior {
  readonly prior: MixturePrior;
  readonly borrowed: Borrowed;
}

/** Common practice, no source: spreads between houses and between seasons as shares of gain. */
const between = {
  nurseries: { level: 0.15, shape: 0.08 },
  seasons: { level: 0.07, shape: 0.05 },
};
/** Chance that this season is like nothing known. */
const vagueShare = 0.15;
/** Chance that this house is like no other. */
const unlikeOthers = 0.2;
/** How firmly the spreads above are held against what summaries show, in summaries. */
const spreadFirmness = 6;

const size = gainKnotsD.length;

const noises = [0.004, 0.0053, 0.007, 0.0093, 0.0123, 0.0163, 0.0216, 0.0286];
const lastings = [0.1, 0.45, 0.8];
const wanders = [0.03, 0.08, 0.15, 0.28];
const spreads = [0.05, 0.11, 0.22];

/** The sets of parameters that are weighed against each other. */
export const variationGrid: readonly WanderingParameters[] = noises.flatMap((noiseSd) =>
  lastings.flatMap((lastingShare) =>
    wanders.flatMap((wander) =>
      spreads.map((spread) => ({ noiseSd, lastingShare, wander, spread })),
    ),
  ),
);

/**
 * What is expected of a season before its first weighing: species (weak), then other
 * nurseries, then earlier seasons of this house, each combined with the spread
 * between its members, and mixed with a vague belief, so that a prior that is wrong
 * is let go of when the weighings disagree.
 *
 * Source: meta-analytic-predictive prior with a vague component, Schmidli et al.
 * (2014) Biometrics 70:1023-1032; here normal throughout, so in closed form. The
 * spread between members is what the summaries show, shrunk towards common practice.
 *
 * @example expectationPrior({ gain: 0.01 }, [], []).prior.beliefs.length // 1
 */
export function expectationPrior(
  weak: WeakGain,
  nurseries: readonly PopulationSummary[],
  seasons: readonly PopulationSummary[],
): ExpectationPrior {
  const vague = gaussian(weak.gain, weakCovariance(weak.gain));
  let house: Weighed[] = [{ weight: 1, informed: false, ...vague }];
  if (nurseries.length > 0) {
    const spread = spreadOf(nurseries, vague, between.nurseries);
    let centre: Gaussian = vague;
    for (const s of nurseries) centre = updated(centre, loosened(s, spread));
    house = [
      { weight: 1 - unlikeOthers, informed: true, ...widened(centre, spread) },
      { weight: unlikeOthers, informed: false, ...vague },
    ];
  }
  const withNurseries = house;
  if (seasons.length > 0) {
    const spread = spreadOf(seasons, vague, between.seasons);
    for (const s of seasons) {
      const said = loosened(s, spread);
      const logs = house.map((h) => Math.log(h.weight) + logEvidence(h, said));
      const most = Math.max(...logs);
      const total = logs.reduce((sum, l) => sum + Math.exp(l - most), 0);
      house = house.map((h, i) => ({
        weight: Math.exp(logs[i]! - most) / total,
        informed: true,
        ...updated(h, said),
      }));
    }
    house = house
      .map((h) => ({ ...h, ...widened(h, spread), weight: h.weight * (1 - vagueShare) }))
      .filter((h) => h.weight > 1e-4);
    house.push({ weight: vagueShare, informed: false, ...vague });
  }
  const total = house.reduce((sum, h) => sum + h.weight, 0);
  const all = [...nurseries, ...seasons];
  const ownSpread =
    all.length === 0 ? 0.1 : Math.exp(mean(all.map((s) => s.variation.spread.logMean)));
  const animalsIn = (g: readonly Weighed[]) => worthInAnimals(g, vague, ownSpread);
  const fromNurseries = nurseries.length === 0 ? 0 : animalsIn(withNurseries);
  const fromBoth = all.length === 0 ? 0 : animalsIn(house);
  return {
    prior: {
      knots: gainKnotsD,
      parameters: variationGrid,
      weights: variationWeights(nurseries, seasons),
      beliefs: house.map(
        ({ weight, informed, precision, pulled }): SlopeBelief => ({
          weight: weight / total,
          informed,
          precision,
          pulled,
        }),
      ),
    },
    borrowed: {
      fromNurseries: Math.min(fromNurseries, fromBoth),
      fromSeasons: seasons.length === 0 ? 0 : Math.max(0, fromBoth - fromNurseries),
      nurseries: nurseries.length,
      nurseryAnimals: nurseries.reduce((n, s) => n + s.animals, 0),
      seasons: seasons.length,
      seasonAnimals: seasons.reduce((n, s) => n + s.animals, 0),
    },
  };
}

/**
 * The seasons of one house as one summary of the house: each season's own deviation
 * taken out, so that a prior file says what the house knows of seasons to come. Summaries
 * of houses likewise, as what all of them know of a house to come.
 *
 * @param of what the members are; houses differ by more than seasons of a house.
 * @throws RangeError for no member at all.
 */
export function summaryOfHouse(
  weak: WeakGain,
  members: readonly PopulationSummary[],
  of: "seasons" | "nurseries" = "seasons",
): PopulationSummary {
  if (members.length === 0) throw new RangeError(`no ${of}, no summary`);
  const vague = gaussian(weak.gain, weakCovariance(weak.gain));
  const spread = spreadOf(members, vague, between[of]);
  let all: Gaussian = { precision: new Float64Array(size * size), pulled: new Float64Array(size) };
  for (const s of members) all = updated(all, loosened(s, spread));
  const known = (of === "seasons" ? combineVariation([], members) : combineVariation(members, []))!;
  const logNormal = ({ mean: logMean, sd: logSd }: { mean: number; sd: number }) => ({
    logMean,
    logSd,
  });
  return {
    animals: members.reduce((n, s) => n + s.animals, 0),
    seasons: members.reduce((n, s) => n + s.seasons, 0),
    agesD: [...gainKnotsD],
    information: [...all.precision],
    pulled: [...all.pulled],
    variation: {
      noise: logNormal(known.noise),
      lasting: known.lasting,
      wander: logNormal(known.wander),
      spread: logNormal(known.spread),
    },
  };
}

interface Gaussian {
  readonly precision: Float64Array;
  readonly pulled: Float64Array;
}
/** A belief with its weight, and whether a nursery or season stands behind it. */
type Weighed = Gaussian & { readonly weight: number; readonly informed: boolean };

/**
 * Relative gain falls as an animal grows: from a month on by 0.8 % of itself a day, give
 * or take 0.4. Common practice (in every growth law it falls; a curve by Gompertz or one of
 * even grams a day falls about as fast), no source.
 */
const falling = { fromD: 30, perDay: 0.008, sd: 0.004 };
const ofFirstMonth = gainKnotsD.map((age) =>
  Math.exp(-falling.perDay * Math.max(0, age - falling.fromD)),
);

function gaussian(gain: number, covariance: Float64Array): Gaussian {
  const precision = inverse(covariance);
  const mean = Float64Array.from(ofFirstMonth, (share) => share * gain);
  return { precision, pulled: times(precision, mean) };
}

/** Level, fall with age and shape of the species' gain may be far from what is weakly believed. */
function weakCovariance(gain: number): Float64Array {
  const own = kernel(gain, { level: 0.6, shape: 0.2 }, 60);
  const tilt = (i: number) => gain * falling.sd * (gainKnotsD[i]! - falling.fromD);
  return own.map((v, at) => {
    const i = Math.floor(at / size);
    const j = at % size;
    return ofFirstMonth[i]! * ofFirstMonth[j]! * (v + tilt(i) * tilt(j));
  });
}

function kernel(gain: number, { level, shape }: Spread, reachD: number): Float64Array {
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) {
      const near = Math.exp(-Math.abs(gainKnotsD[i]! - gainKnotsD[j]!) / reachD);
      out[i * size + j] = gain * gain * (level * level + shape * shape * near);
    }
  return out;
}

interface Spread {
  readonly level: number;
  readonly shape: number;
}

/** Covariance between members of a kind: common practice, scaled by what the summaries show. */
function spreadOf(all: readonly PopulationSummary[], vague: Gaussian, practice: Spread) {
  const levels = all.map((s) => levelOf(updated(vague, said(s))));
  const centre = mean(levels.map((l) => l.mean));
  let squares = 0;
  for (const l of levels) {
    squares += (l.mean - centre) ** 2 / (l.variance + (practice.level * centre) ** 2);
  }
  const scale = (spreadFirmness + squares) / (spreadFirmness + all.length - 1);
  return kernel(centre, practice, 40).map((v) => v * scale);
}

/** Mean gain from 10 to 60 days of age: mean and variance. */
function levelOf(g: Gaussian) {
  const covariance = inverse(g.precision);
  const m = times(covariance, g.pulled);
  const used = gainKnotsD.flatMap((age, i) => (age >= 10 && age <= 60 ? [i] : []));
  let variance = 0;
  for (const i of used) for (const j of used) variance += covariance[i * size + j]!;
  return { mean: mean(used.map((i) => m[i]!)), variance: variance / used.length ** 2 };
}

function said(s: PopulationSummary): Gaussian {
  return { precision: Float64Array.from(s.information), pulled: Float64Array.from(s.pulled) };
}

/** What one member says of the centre of its kind, the spread between members taken out. */
function loosened(s: PopulationSummary, spread: Float64Array): Gaussian {
  const { precision, pulled } = said(s);
  const both = inverse(sum(precision, inverse(spread)));
  const half = product(precision, both);
  const lost = product(half, precision);
  const lostPull = times(half, pulled);
  return {
    precision: precision.map((v, i) => v - lost[i]!),
    pulled: pulled.map((v, i) => v - lostPull[i]!),
  };
}

function updated(g: Gaussian, by: Gaussian): Gaussian {
  return { precision: sum(g.precision, by.precision), pulled: sum(g.pulled, by.pulled) };
}

/** Another member of the kind: the centre, and the spread between members on top. */
function widened(g: Gaussian, spread: Float64Array): Gaussian {
  const covariance = inverse(g.precision);
  const m = times(covariance, g.pulled);
  const precision = inverse(sum(covariance, spread));
  return { precision, pulled: times(precision, m) };
}

/** Log of the integral of a belief times what is said, up to what is the same for every belief. */
function logEvidence(belief: Gaussian, said: Gaussian): number {
  const value = (g: Gaussian) => {
    const l = Float64Array.from(g.precision);
    factorInPlace(l, size);
    const b = Float64Array.from(g.pulled);
    solveLowerInPlace(l, size, b);
    return -0.5 * logDeterminant(l, size) + 0.5 * b.reduce((s, v) => s + v * v, 0);
  };
  return value(updated(belief, said)) - value(belief);
}

/** How many animals, each differing by `ownSpread`, would say as much about mean gain. */
function worthInAnimals(house: readonly Weighed[], vague: Gaussian, ownSpread: number): number {
  const total = house.reduce((s, h) => s + h.weight, 0);
  const worth = (g: Gaussian) => {
    const l = levelOf(g);
    return (ownSpread * l.mean) ** 2 / l.variance;
  };
  const known = house.reduce((s, h) => s + (h.weight / total) * worth(h), 0);
  return Math.max(0, known - worth(vague));
}

interface Bell {
  readonly mean: number;
  readonly sd: number;
}
type Bells = Readonly<Record<"noise" | "lasting" | "wander" | "spread", Bell>>;

function density(of: Bells): Float64Array {
  return normalised(
    variationGrid.map(
      (p) =>
        bell(Math.log(p.noiseSd), of.noise) *
        bell(p.lastingShare, of.lasting) *
        bell(Math.log(p.wander), of.wander) *
        bell(Math.log(p.spread), of.spread),
    ),
  );
}

/** Weights of the grid where nothing is known: common practice, no source. */
export const vagueWeights: Float64Array = density({
  noise: { mean: Math.log(0.012), sd: 0.55 },
  lasting: { mean: 0.4, sd: 0.35 },
  wander: { mean: Math.log(0.09), sd: 0.6 },
  spread: { mean: Math.log(0.11), sd: 0.5 },
});

/** Weights of the grid: what summaries say of the variation, mixed with what is possible at all. */
function variationWeights(
  nurseries: readonly PopulationSummary[],
  seasons: readonly PopulationSummary[],
): Float64Array {
  const known = combineVariation(nurseries, seasons);
  const vague = vagueWeights;
  if (known === null) return vague;
  const informed = density(known);
  return vague.map((v, k) => vagueShare * v + (1 - vagueShare) * informed[k]!);
}

/** How much the variation differs between houses and between seasons of one, common practice. */
const variationBetween = {
  nurseries: { noise: 0.35, lasting: 0.25, wander: 0.4, spread: 0.3 },
  seasons: { noise: 0.15, lasting: 0.12, wander: 0.2, spread: 0.2 },
};

function combineVariation(
  nurseries: readonly PopulationSummary[],
  seasons: readonly PopulationSummary[],
) {
  if (nurseries.length + seasons.length === 0) return null;
  const moments = (s: PopulationSummary, key: keyof typeof variationBetween.seasons) => {
    if (key === "lasting") return s.variation.lasting;
    const v: LogNormal = s.variation[key];
    return { mean: v.logMean, sd: v.logSd };
  };
  const of = (key: keyof typeof variationBetween.seasons) => {
    let precision = 0;
    let pulled = 0;
    // The standard deviation is at least half a step of the grid.
    const take = (members: readonly PopulationSummary[], spread: number) => {
      for (const s of members) {
        const m = moments(s, key);
        const w = 1 / (m.sd ** 2 + spread ** 2 + 0.1 ** 2);
        precision += w;
        pulled += w * m.mean;
      }
    };
    take(nurseries, variationBetween.nurseries[key]);
    const ofNursery = variationBetween.nurseries[key] ** 2;
    if (precision > 0) {
      const m = pulled / precision;
      precision = 1 / (1 / precision + ofNursery);
      pulled = precision * m;
    }
    take(seasons, variationBetween.seasons[key]);
    const ofSeason = seasons.length === 0 ? 0 : variationBetween.seasons[key] ** 2;
    return { mean: pulled / precision, sd: Math.sqrt(1 / precision + ofSeason + 0.1 ** 2) };
  };
  return {
    noise: of("noise"),
    lasting: of("lasting"),
    wander: of("wander"),
    spread: of("spread"),
  };
}

function bell(x: number, { mean, sd }: Bell): number {
  return Math.exp(-0.5 * ((x - mean) / sd) ** 2);
}

function normalised(x: readonly number[]): Float64Array {
  const total = x.reduce((s, v) => s + v, 0);
  return Float64Array.from(x, (v) => v / total);
}

function mean(x: readonly number[]): number {
  return x.reduce((s, v) => s + v, 0) / x.length;
}

function inverse(m: Float64Array): Float64Array {
  const out = invertSymmetric(m, size);
  if (out === null) throw new RangeError("a covariance of gains is not positive definite");
  return out;
}

function sum(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((v, i) => v + b[i]!);
}

function times(m: Float64Array, x: Float64Array): Float64Array {
  const out = new Float64Array(size);
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) out[i]! += m[i * size + j]! * x[j]!;
  return out;
}

function product(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++)
    for (let k = 0; k < size; k++) {
      const v = a[i * size + k]!;
      if (v !== 0) for (let j = 0; j < size; j++) out[i * size + j]! += v * b[k * size + j]!;
    }
  return out;
}
