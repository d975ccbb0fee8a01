import { neighbourCorrelations, whitenRows } from "../descriptive/serial-correlation.js";

/**
 * How residuals vary and hang together, besides their common variance.
 *
 * standard deviation of row i = sigma * |v_i|^power * ratio(stratum_i) / sqrt(weight_i)
 */
export interface ResidualStructure {
  /**
   * Standard deviation as a power of `covariate`, or of the fitted mean where none
   * is given; the fitted mean includes the random effects and is updated until it settles.
   */
  readonly power?: { readonly covariate?: ArrayLike<number>; readonly start?: number };
  /** A ratio of standard deviations for each stratum, the first one listed being 1. */
  readonly strata?: { readonly of: ArrayLike<string | number>; readonly first?: string | number };
  /** Known relative precisions. */
  readonly weights?: ArrayLike<number>;
  /** Continuous-time first-order autocorrelation within the innermost groups. */
  readonly serial?: { readonly time: ArrayLike<number>; readonly start?: number };
}

/** Estimates of a residual structure; `null` for parts it does not have. */
export interface ResidualEstimates {
  readonly power: number | null;
  readonly ratios: Readonly<Record<string, number>> | null;
  /** Correlation of residuals one unit of time apart. */
  readonly phi: number | null;
  /** Where phi ran to the edge of its range: the data do not identify it. */
  readonly phiAtBoundary: "none" | "zero" | "one";
}

/** The structure with rows in working order and its parameters as free numbers. */
export interface ResidualWork {
  readonly count: number;
  readonly usesFitted: boolean;
  readonly start: Float64Array;
  /** The |v| of the power; updated from the fitted mean when `usesFitted`. */
  readonly mean: Float64Array | null;
  setMean(fitted: Float64Array): void;
  /**
   * What the working sigma is multiplied by to give sigma as reported. Inside, the
   * power acts on the mean over its geometric mean, so that sigma and power are
   * nearly independent and the search stays well scaled.
   */
  sigmaFactor(parameters: Float64Array, from: number): number;
  /** log sd of each row relative to sigma, into `out`; returns their sum. */
  logScales(parameters: Float64Array, from: number, out: Float64Array): number;
  /** Whitens `rows` in place; returns what the scaling adds to -2 log-likelihood. */
  whiten(rows: Float64Array, width: number, parameters: Float64Array, from: number): number;
  estimates(parameters: Float64Array, from: number): ResidualEstimates;
}

const LARGEST_LOGIT = 35;

/** phi from its free parameter. The complement keeps its digits near one. */
const phiOf = (free: number) => 1 / (1 + Math.exp(-free));

/** Prepares a residual structure for rows in the order `order` and groups `starts`. */
export function prepareResidual(
  structure: ResidualStructure,
  n: number,
  order: Int32Array,
  starts: Int32Array,
): ResidualWork {
  const { power, strata, weights, serial } = structure;
  const take = (values: ArrayLike<number>) =>
    Float64Array.from({ length: n }, (_, i) => values[order[i]!]!);
  const { names, stratum } = codeStrata(strata, n, order);
  const ratios = Math.max(0, names.length - 1);
  const times = serial === undefined ? null : take(serial.time);
  const work: Rows = {
    n,
    starts,
    mean: power === undefined ? null : new Float64Array(n).fill(1),
    logMean: new Float64Array(n),
    centre: 0,
    names: strata === undefined ? null : names,
    stratum,
    ratios,
    logWeight: weights === undefined ? null : take(weights).map((w) => -0.5 * Math.log(w)),
    times,
    correlations: new Float64Array(n),
    scales: new Float64Array(n),
    hasPower: power === undefined ? 0 : 1,
    count: (power === undefined ? 0 : 1) + ratios + (serial === undefined ? 0 : 1),
  };
  if (power?.covariate !== undefined) followMean(work, take(power.covariate));
  return {
    count: work.count,
    usesFitted: power !== undefined && power.covariate === undefined,
    start: startOf(work, structure),
    mean: work.mean,
    setMean: (fitted) => followMean(work, fitted),
    sigmaFactor: (parameters, from) =>
      work.hasPower === 1 ? Math.exp(-parameters[from]! * work.centre) : 1,
    logScales: (parameters, from, out) => logScales(work, parameters, from, out),
    whiten: (rows, width, parameters, from) => whiten(work, rows, width, parameters, from),
    estimates: (parameters, from) => estimatesAt(work, parameters, from),
  };
}

/** The rows in working order, and room to work in. */
interface Rows {
  readonly n: number;
  readonly starts: Int32Array;
  readonly mean: Float64Array | null;
  /** Logarithm of the mean over its geometric mean, whose logarithm is `centre`. */
  readonly logMean: Float64Array;
  centre: number;
  readonly names: readonly string[] | null;
  readonly stratum: Int32Array;
  readonly ratios: number;
  readonly logWeight: Float64Array | null;
  readonly times: Float64Array | null;
  readonly correlations: Float64Array;
  readonly scales: Float64Array;
  readonly hasPower: 0 | 1;
  readonly count: number;
}

/** Strata as numbers, the first one listed (or named) being 0. */
function codeStrata(strata: ResidualStructure["strata"], n: number, order: Int32Array) {
  const names: string[] = [];
  const stratum = new Int32Array(n);
  if (strata === undefined) return { names, stratum };
  const seen = new Map<string, number>();
  const code = (value: string | number) => {
    const key = String(value);
    const known = seen.get(key);
    if (known !== undefined) return known;
    seen.set(key, names.length);
    return names.push(key) - 1;
  };
  if (strata.first !== undefined) code(strata.first);
  for (let i = 0; i < n; i++) code(strata.of[i]!);
  for (let i = 0; i < n; i++) stratum[i] = code(strata.of[order[i]!]!);
  return { names, stratum };
}

/** The power acts on these means; those near zero are raised to a floor. */
function followMean(work: Rows, fitted: Float64Array): void {
  const { n, mean, logMean } = work;
  if (mean === null) return;
  let square = 0;
  for (let i = 0; i < n; i++) square += fitted[i]! ** 2;
  const floor = 1e-8 * Math.sqrt(square / n) + 1e-300;
  let centre = 0;
  for (let i = 0; i < n; i++) {
    mean[i] = Math.max(Math.abs(fitted[i]!), floor);
    logMean[i] = Math.log(mean[i]!);
    centre += logMean[i]! / n;
  }
  for (let i = 0; i < n; i++) logMean[i]! -= centre;
  work.centre = centre;
}

/** Where the search begins: correlation 0.4 over the usual gap in time. */
function startOf({ n, times, count, hasPower }: Rows, structure: ResidualStructure): Float64Array {
  const start = new Float64Array(count);
  if (hasPower === 1) start[0] = structure.power?.start ?? 0;
  if (times !== null) {
    const gaps: number[] = [];
    for (let i = 1; i < n; i++) if (times[i]! > times[i - 1]!) gaps.push(times[i]! - times[i - 1]!);
    gaps.sort((a, b) => a - b);
    const middle = gaps[gaps.length >> 1] ?? 1;
    const phi = structure.serial?.start ?? 0.4 ** (1 / middle);
    start[count - 1] = Math.log(phi / (1 - phi));
  }
  return start;
}

function logScales(work: Rows, parameters: Float64Array, from: number, out: Float64Array): number {
  const { n, logWeight, hasPower, logMean, stratum } = work;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    let s = logWeight === null ? 0 : logWeight[i]!;
    if (hasPower === 1) s += parameters[from]! * logMean[i]!;
    const k = stratum[i]!;
    if (k > 0) s += parameters[from + hasPower + k - 1]!;
    out[i] = s;
    sum += s;
  }
  return sum;
}

function whiten(
  work: Rows,
  rows: Float64Array,
  width: number,
  parameters: Float64Array,
  from: number,
): number {
  const { n, hasPower, ratios, logWeight, scales, times, starts, correlations, count } = work;
  let added = 0;
  if (hasPower === 1 || ratios > 0 || logWeight !== null) {
    added += 2 * logScales(work, parameters, from, scales);
    for (let i = 0; i < n; i++) {
      const f = Math.exp(-scales[i]!);
      for (let j = i * width; j < (i + 1) * width; j++) rows[j]! *= f;
    }
  }
  if (times !== null) {
    const free = Math.max(-LARGEST_LOGIT, Math.min(LARGEST_LOGIT, parameters[from + count - 1]!));
    neighbourCorrelations(times, starts, phiOf(free), correlations);
    added += whitenRows(rows, width, correlations);
  }
  return added;
}

function estimatesAt(work: Rows, parameters: Float64Array, from: number): ResidualEstimates {
  const { names, hasPower, times, starts, count } = work;
  const phi = times === null ? null : phiOf(parameters[from + count - 1]!);
  const ratio = (k: number) => (k === 0 ? 1 : Math.exp(parameters[from + hasPower + k - 1]!));
  return {
    power: hasPower === 1 ? parameters[from]! : null,
    ratios: names && Object.fromEntries(names.map((name, k) => [name, ratio(k)])),
    phi,
    phiAtBoundary: phi === null || times === null ? "none" : edgeOf(phi, times, starts),
  };
}

/** The edge at which phi tells nothing: no correlation over the shortest gap, or all of it over the longest. */
function edgeOf(
  phi: number,
  times: Float64Array,
  starts: Int32Array,
): ResidualEstimates["phiAtBoundary"] {
  let smallestGap = Number.POSITIVE_INFINITY;
  let longest = 0;
  for (let g = 0; g + 1 < starts.length; g++) {
    const first = starts[g]!;
    const end = starts[g + 1]!;
    if (end > first) longest = Math.max(longest, times[end - 1]! - times[first]!);
    for (let i = first + 1; i < end; i++) {
      smallestGap = Math.min(smallestGap, times[i]! - times[i - 1]!);
    }
  }
  if (phi ** smallestGap < 1e-3) return "zero";
  return phi ** longest > 0.97 ? "one" : "none";
}
