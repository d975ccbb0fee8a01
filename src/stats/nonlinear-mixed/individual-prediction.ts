import { studentTQuantile } from "../distributions/student-t.js";
import { type Posterior, spreadAt, toNatural, updateMoved } from "./individual-posterior.js";

export interface PredictionOptions {
  /**
   * "individual" (default): this individual given its observations. "population":
   * the average individual's curve and how well it is known.
   */
  readonly of?: "individual" | "population";
  /** "mean" (default): the true mean. "reading": the next observation, with its residual. */
  readonly what?: "mean" | "reading";
  /** Default 0.95. */
  readonly level?: number;
  /** Replaces the t quantile by a calibrated multiplier of the standard error. */
  readonly multiplier?: number;
}

export interface IndividualPrediction {
  readonly value: number;
  readonly se: number;
  readonly lower: number;
  readonly upper: number;
  /** Degrees of freedom behind the interval (Satterthwaite). */
  readonly df: number;
}

/** A sum of means at given x, each with its sign: one mean, or the rise between two. */
type Points = readonly { readonly x: number; readonly sign: number }[];

/** What was found, before the noise of a reading is added. */
interface Found {
  readonly value: number;
  readonly variance: number;
  readonly df: number;
}

/** A prediction with its interval. */
export function predictFrom(
  posterior: Posterior,
  points: Points,
  options: PredictionOptions,
): IndividualPrediction {
  const { of = "individual", what = "mean", level = 0.95 } = options;
  const found =
    of === "population" ? ofPopulation(posterior, points) : ofOne(posterior, points, what);
  const { df } = found;
  const { value, variance } =
    what === "reading" ? asReading(posterior, points[0]!.x, found, of) : found;
  const se = Math.sqrt(Math.max(0, variance));
  const q = options.multiplier ?? studentTQuantile((1 + level) / 2, Math.min(df, 1e6));
  return { value, se, lower: value - q * se, upper: value + q * se, df };
}

function ofPopulation(posterior: Posterior, points: Points): Found {
  const { value, gradient } = valueAt(posterior, points, posterior.centre);
  toNatural(posterior, posterior.eta);
  return {
    value,
    variance: form(gradient, posterior.base.mean),
    df: Math.max(1, posterior.prior.groups - 1),
  };
}

function ofOne(posterior: Posterior, points: Points, what: "mean" | "reading"): Found {
  const { prior } = posterior;
  const { value, gradient } = valueAt(posterior, points, posterior.eta);
  updateMoved(posterior);
  const own = form(gradient, posterior.covariance);
  let shift = 0;
  let wobble = 0;
  for (const { up, down } of posterior.moved) {
    let difference = 0;
    for (let j = 0; j < gradient.length; j++) {
      difference += gradient[j]! * (up.eta[j]! - down.eta[j]!);
    }
    shift += (difference / 2) ** 2;
    const extra = what === "reading" ? up.sigma ** 2 - down.sigma ** 2 : 0;
    wobble += ((form(gradient, up.covariance) - form(gradient, down.covariance) + extra) / 2) ** 2;
  }
  const whole = own + (what === "reading" ? prior.sigma ** 2 : 0);
  return {
    value,
    variance: own + 2 * shift,
    df: wobble > 0 ? Math.max(2, (2 * whole * whole) / wobble) : Number.POSITIVE_INFINITY,
  };
}

/** With the noise of the next reading, and what hangs together with the last one. */
function asReading(
  posterior: Posterior,
  x: number,
  found: Found,
  of: "individual" | "population",
): Pick<Found, "value" | "variance"> {
  const { prior, mean, xs, ys, count, phi, d } = posterior;
  let { value } = found;
  let noise = spreadAt(prior, value, prior.sigma) ** 2;
  if (prior.phi !== null && count > 0 && of === "individual") {
    const rho = prior.phi ** Math.max(0, x - xs[count - 1]!);
    toNatural(posterior, posterior.eta);
    const lastMean = mean(xs[count - 1]!, phi, d, 0);
    const ratio = spreadAt(prior, value, 1) / spreadAt(prior, lastMean, 1);
    value += rho * ratio * (ys[count - 1]! - lastMean);
    noise *= 1 - rho * rho;
  }
  return { value, variance: found.variance + noise };
}

/** The sum of means at `at`, and its gradient by the parameters on their working scale. */
function valueAt(
  posterior: Posterior,
  points: Points,
  at: Float64Array,
): { readonly value: number; readonly gradient: Float64Array } {
  const { mean, phi, slope, d } = posterior;
  const gradient = new Float64Array(at.length);
  let value = 0;
  for (const { x, sign } of points) {
    toNatural(posterior, at);
    value += sign * mean(x, phi, d, 0);
    for (let j = 0; j < at.length; j++) gradient[j]! += sign * d[j]! * slope[j]!;
  }
  return { value, gradient };
}

/** gradient' C gradient. */
function form(gradient: Float64Array, c: Float64Array): number {
  const k = gradient.length;
  let s = 0;
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) s += gradient[i]! * c[i * k + j]! * gradient[j]!;
  }
  return s;
}
