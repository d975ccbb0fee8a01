import { normalQuantile } from "../distributions/normal.js";
import {
  type RiskTime,
  requireSurvivalData,
  riskTimes,
  type SurvivalData,
} from "./survival-data.js";

export type SurvivalInterval = "log" | "log-log" | "plain";

export interface SurvivalStep extends RiskTime {
  /** Share without the event just after `time`. */
  readonly survival: number;
  /** Greenwood's standard error; `null` once nobody is left. */
  readonly se: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  /** Nelson-Aalen cumulative hazard and its standard error. */
  readonly cumulativeHazard: number;
  readonly seCumulativeHazard: number;
}

export interface KaplanMeier {
  readonly n: number;
  readonly events: number;
  readonly level: number;
  readonly steps: readonly SurvivalStep[];
}

/**
 * Kaplan-Meier estimate of the share still without the event, with Greenwood's
 * standard errors and intervals on the log, log-log or plain scale.
 *
 * @throws UsageError for rows without a finite time.
 * @example kaplanMeier({ time: [1, 2, 3], event: [1, 0, 1] }).steps[0].survival // 0.6666666666666667
 */
export function kaplanMeier(
  data: SurvivalData,
  options: { readonly interval?: SurvivalInterval; readonly level?: number } = {},
): KaplanMeier {
  requireSurvivalData("kaplanMeier", data);
  const { interval = "log", level = 0.95 } = options;
  const z = normalQuantile((1 + level) / 2);
  let survival = 1;
  let greenwood = 0;
  let hazard = 0;
  let hazardVariance = 0;
  const steps = riskTimes(data).map((r): SurvivalStep => {
    if (r.events > 0) {
      survival *= (r.atRisk - r.events) / r.atRisk;
      greenwood += r.events / (r.atRisk * (r.atRisk - r.events));
      hazard += r.events / r.atRisk;
      hazardVariance += r.events / (r.atRisk * r.atRisk);
    }
    const relative = Math.sqrt(greenwood);
    const usable = survival > 0;
    const [lower, upper] = usable ? limits(survival, relative, z, interval) : [null, null];
    return {
      ...r,
      survival,
      se: usable ? survival * relative : null,
      lower,
      upper,
      cumulativeHazard: hazard,
      seCumulativeHazard: Math.sqrt(hazardVariance),
    };
  });
  const events = steps.reduce((s, r) => s + r.events, 0);
  return { n: data.time.length, events, level, steps };
}

/**
 * Share without the event just after time t.
 *
 * @example survivalAt(kaplanMeier({ time: [1, 2, 3], event: [1, 0, 1] }), 2) // 0.666667
 */
export function survivalAt(curve: KaplanMeier, t: number): number {
  let s = 1;
  for (const step of curve.steps) {
    if (step.time > t) break;
    s = step.survival;
  }
  return s;
}

export interface SurvivalQuantile {
  readonly time: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * The time by which a share p has had the event, with the limits read off the
 * curve's limits; halfway along a step that lies exactly at the share. `null`
 * where the curve does not come down so far.
 *
 * @example survivalQuantile(kaplanMeier({ time: [4, 5, 7, 9, 11, 12], event: [1, 1, 0, 1, 1, 0] }), 0.5).time // 9
 */
export function survivalQuantile(curve: KaplanMeier, p: number): SurvivalQuantile {
  const read = (height: (s: SurvivalStep) => number | null) => {
    const first = (slack: number) =>
      curve.steps.find((s) => {
        const h = height(s);
        return h !== null && 1 - h + slack >= p;
      })?.time ?? null;
    const a = first(1.5e-8);
    const b = first(-1.5e-8);
    return a === null || b === null ? null : (a + b) / 2;
  };
  return {
    time: read((s) => s.survival),
    lower: read((s) => s.lower),
    upper: read((s) => s.upper),
  };
}

/**
 * Mean time without the event up to `until`: the area under the curve, with its standard error.
 *
 * @example restrictedMean(kaplanMeier({ time: [1, 2, 3], event: [1, 1, 1] }), 3).mean // 2
 */
export function restrictedMean(
  curve: KaplanMeier,
  until: number,
): { readonly mean: number; readonly se: number } {
  const steps = curve.steps.filter((s) => s.time < until);
  let height = 1;
  let from = 0;
  const areas = steps.map((s) => {
    const area = height * (s.time - from);
    from = s.time;
    height = s.survival;
    return area;
  });
  areas.push(height * (until - from));
  let right = 0;
  let variance = 0;
  for (let i = steps.length - 1; i >= 0; i--) {
    right += areas[i + 1]!;
    const { atRisk, events } = steps[i]!;
    if (atRisk > events) variance += (right * right * events) / (atRisk * (atRisk - events));
  }
  return { mean: right + areas[0]!, se: Math.sqrt(variance) };
}

function limits(s: number, relative: number, z: number, kind: SurvivalInterval): [number, number] {
  if (relative === 0) return [s, s];
  if (kind === "plain") {
    return [Math.max(0, s - z * s * relative), Math.min(1, s + z * s * relative)];
  }
  if (kind === "log") return [s * Math.exp(-z * relative), Math.min(1, s * Math.exp(z * relative))];
  const width = (z * relative) / Math.log(s);
  return [s ** Math.exp(-width), s ** Math.exp(width)];
}
