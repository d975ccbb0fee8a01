import { minimiseSmooth } from "../numeric/minimise-smooth.js";
import { type PricedCourse, type PricedParameters, PricedRun } from "./priced-rate.js";

export interface PricedRateFit {
  /** Median of the price, its limits, and the standard deviation of its logarithm. */
  readonly price: number;
  readonly lower: number;
  readonly upper: number;
  readonly logSd: number;
  /** The larger share of the belief that lies within a step of one end of the prices looked at. */
  readonly atEnds: number;
  /** At the median. */
  readonly parameters: PricedParameters;
  /** Per course: upkeep at the median, its variance, and its change per unit of price. */
  readonly upkeep: readonly {
    readonly mean: number;
    readonly variance: number;
    readonly perPrice: number;
  }[];
}

/** Step of ln price between the prices looked at. */
const step = 0.2;

export interface PricedRateOptions {
  /** Prices that can be; beyond them nothing is believed. */
  readonly cheapest: number;
  readonly dearest: number;
  /** Coverage of the limits. Default 0.95. */
  readonly level?: number;
}

/** Prices this many log-likelihood units below the best end the search. */
const drop = 7;

/**
 * Wide beliefs about what is not asked for: centre and standard deviation of the
 * logarithm (of the logit, for the share that lasts). Wander is a share of the mean
 * rate, mood of flow per base.
 */
const beliefs = [
  { name: "noiseSd", centre: Math.log(0.012), sd: 0.7 },
  { name: "lastingShare", centre: 0, sd: 1.2 },
  { name: "wanderSd", centre: Math.log(0.08), sd: 1.5 },
  { name: "moodSd", centre: Math.log(0.03), sd: 1.5 },
] as const;

/**
 * What the flow pays for one unit of rate, from courses of several units with an
 * upkeep of their own each (`priced-rate`): the belief about the price after what was
 * seen, the other parameters at their best for every price (a profile, taken as a
 * density of ln price). How much of a reading's error lasts from day to day and how
 * much the rate truly wanders is told from the same courses, so neither has to be known.
 *
 * Null where no course has three readings or nothing flows.
 *
 * Source: Harvey (1989), chapter 3; profile likelihood as a density: Pawitan (2001), In
 * All Likelihood, sections 3.4 and 10.
 */
export function fitPricedRate(
  courses: readonly PricedCourse[],
  options: PricedRateOptions,
): PricedRateFit | null {
  const { cheapest, dearest, level = 0.95 } = options;
  const used = courses.filter((c) => c.time.length >= 3);
  const { rate, flow } = sizesOf(used);
  if (used.length === 0 || !(flow > 0)) return null;
  const run = new PricedRun();
  const start = {
    own: [rate, 0.5 * rate],
    upkeep: [0.6 * flow, flow],
    drift: 0.02 * rate,
  } as const;
  const parametersAt = (logPrice: number, f: ArrayLike<number>): PricedParameters => ({
    price: Math.exp(logPrice),
    noiseSd: Math.exp(f[0]!),
    lastingShare: 1 / (1 + Math.exp(-f[1]!)),
    wanderSd: rate * Math.exp(f[2]!),
    moodSd: flow * Math.exp(f[3]!),
  });
  const unlikely = (logPrice: number, f: ArrayLike<number>) => {
    const v = parametersAt(logPrice, f);
    let sum = 0;
    for (const c of used) sum -= run.logLikelihood(c, v, start);
    beliefs.forEach((b, i) => {
      sum += 0.5 * ((f[i]! - b.centre) / b.sd) ** 2;
    });
    return sum;
  };
  const best = (logPrice: number, from: Float64Array) =>
    minimiseSmooth(
      (x, gradient) => {
        const value = unlikely(logPrice, x);
        const nudged = Float64Array.from(x);
        for (let i = 0; i < x.length; i++) {
          nudged[i] = x[i]! + 1e-4;
          gradient[i] = (unlikely(logPrice, nudged) - value) / 1e-4;
          nudged[i] = x[i]!;
        }
        return value;
      },
      from,
      { rough: true, tolerance: 3e-4, maxIterations: 60 },
    );
  const profile = profileOf(best, Math.log(cheapest), Math.log(dearest));
  if (profile.length < 3) return null;
  const belief = beliefOf(profile, [Math.log(cheapest), Math.log(dearest)]);
  const tail = (1 - level) / 2;
  const logPrice = belief.quantile(0.5);
  const near = profile.reduce((a, b) =>
    Math.abs(b.logPrice - logPrice) < Math.abs(a.logPrice - logPrice) ? b : a,
  );
  const parameters = parametersAt(logPrice, near.x);
  const { price } = parameters;
  const upkeepsAt = (p: number) =>
    used.map((c) => {
      run.logLikelihood(c, { ...parameters, price: p }, start);
      return run.upkeep;
    });
  const here = upkeepsAt(price);
  const beside = upkeepsAt(1.05 * price);
  return {
    price,
    lower: Math.exp(belief.quantile(tail)),
    upper: Math.exp(belief.quantile(1 - tail)),
    logSd: belief.sd,
    atEnds: belief.atEnds,
    parameters,
    upkeep: here.map(([mean, variance], i) => ({
      mean,
      variance,
      perPrice: (beside[i]![0] - mean) / (0.05 * price),
    })),
  };
}

interface Profiled {
  readonly logPrice: number;
  readonly value: number;
  readonly x: Float64Array;
}

/** From a middle price outwards, as far as anything can be believed. */
function profileOf(
  best: (logPrice: number, from: Float64Array) => { x: Float64Array; value: number },
  lowest: number,
  highest: number,
): Profiled[] {
  const at = (logPrice: number, from: Float64Array): Profiled => ({
    logPrice,
    ...best(logPrice, from),
  });
  const half = (highest - lowest) / 2;
  const steps = Math.max(1, Math.round(half / step));
  const middle = at(
    lowest + half,
    Float64Array.from(beliefs, (b) => b.centre),
  );
  const found = [middle];
  let least = middle.value;
  for (const side of [-1, 1]) {
    let last = middle;
    for (let i = 1; i <= steps; i++) {
      last = at(middle.logPrice + (side * i * half) / steps, last.x);
      found.push(last);
      least = Math.min(least, last.value);
      if (last.value > least + drop) break;
    }
  }
  return refined(
    found.filter((f) => Number.isFinite(f.value)).sort((a, b) => a.logPrice - b.logPrice),
    at,
  );
}

/** Halves the steps where belief is strong and changes much from one price to the next. */
function refined(
  profile: readonly Profiled[],
  at: (logPrice: number, from: Float64Array) => Profiled,
): Profiled[] {
  let now = [...profile];
  for (let round = 0; round < 5; round++) {
    const least = Math.min(...now.map((f) => f.value));
    const next: Profiled[] = [];
    now.forEach((f, i) => {
      const before = now[i - 1];
      if (before !== undefined) {
        const better = before.value < f.value ? before : f;
        const matters = better.value < least + 3 && Math.abs(before.value - f.value) > 0.7;
        if (matters) next.push(at((before.logPrice + f.logPrice) / 2, better.x));
      }
      next.push(f);
    });
    if (next.length === now.length) break;
    now = next;
  }
  return now;
}

/** The density of ln price: log-linear between the prices looked at. */
function beliefOf(
  profile: readonly Profiled[],
  [lowestPrice, highestPrice]: readonly [number, number],
) {
  const lowest = Math.min(...profile.map((f) => f.value));
  const fine = 20;
  const x: number[] = [];
  const width: number[] = [];
  const w: number[] = [];
  for (let i = 0; i + 1 < profile.length; i++) {
    const [a, b] = [profile[i]!, profile[i + 1]!];
    for (let k = 0; k < fine; k++) {
      const share = (k + 0.5) / fine;
      x.push(a.logPrice + share * (b.logPrice - a.logPrice));
      const value = a.value + share * (b.value - a.value);
      width.push((b.logPrice - a.logPrice) / fine);
      w.push(width.at(-1)! * Math.exp(lowest - value));
    }
  }
  const total = w.reduce((s, v) => s + v, 0);
  const mean = w.reduce((s, v, i) => s + v * x[i]!, 0) / total;
  const variance = w.reduce((s, v, i) => s + v * (x[i]! - mean) ** 2, 0) / total;
  const ends = (end: number) =>
    w.reduce((s, v, i) => (Math.abs(x[i]! - end) < step ? s + v : s), 0) / total;
  return {
    sd: Math.sqrt(variance),
    atEnds: Math.max(ends(lowestPrice), ends(highestPrice)),
    quantile(p: number): number {
      let sum = 0;
      for (let i = 0; i < w.length; i++) {
        const next = sum + w[i]! / total;
        if (next >= p) {
          return x[i]! + width[i]! * ((p - sum) / (next - sum) - 0.5);
        }
        sum = next;
      }
      return x.at(-1)!;
    },
  };
}

/** Mean relative rate per unit of time, and mean flow per base. */
function sizesOf(courses: readonly PricedCourse[]) {
  let change = 0;
  let time = 0;
  let flow = 0;
  let base = 0;
  for (const c of courses) {
    const last = c.time.length - 1;
    change += (c.reading[last]! - c.reading[0]!) / (0.5 * (c.size[last]! + c.size[0]!));
    time += c.time[last]! - c.time[0]!;
    for (let j = 1; j <= last; j++) {
      flow += c.flow[j]!;
      base += c.base[j]!;
    }
  }
  return { rate: Math.max(0.003, time > 0 ? change / time : 0), flow: base > 0 ? flow / base : 0 };
}
