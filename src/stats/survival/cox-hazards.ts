import type { Matrix } from "../linear-algebra/matrix.js";
import { type Ties, walkEventTimes } from "./cox-risk-sets.js";
import type { SurvivalData } from "./survival-data.js";

export interface BaselineHazard {
  readonly stratum: string;
  readonly time: number;
  readonly hazard: number;
}

/**
 * Martingale residuals and the cumulative baseline hazard of a fitted Cox model.
 * `lp` is the linear predictor of the centred covariates and `shift` what centring
 * took off it; events tied at one time carry their own share of the increment.
 */
export function coxHazards(
  data: SurvivalData,
  x: Matrix,
  layer: readonly number[],
  lp: Float64Array,
  ties: Ties,
  shift: number,
  names: readonly string[],
): { residuals: Float64Array; baseline: BaselineHazard[] } {
  if (ties === "exact") return { residuals: new Float64Array(0), baseline: [] };
  const jumps: {
    time: number;
    stratum: number;
    hazard: number;
    own: number;
    deaths: Set<number>;
  }[] = [];
  walkEventTimes(data, x, layer, lp, ties, (e) => {
    jumps.push({
      time: e.time,
      stratum: e.stratum,
      hazard: e.hazard,
      own: ties === "efron" ? e.hazardOfDeaths : e.hazard,
      deaths: new Set(e.deaths),
    });
  });
  jumps.sort((a, b) => a.stratum - b.stratum || a.time - b.time);
  const residuals = new Float64Array(lp.length);
  for (let i = 0; i < lp.length; i++) {
    let expected = 0;
    for (const j of jumps) {
      if (j.stratum !== layer[i] || j.time > data.time[i]!) continue;
      if (data.entry !== undefined && data.entry[i]! >= j.time) continue;
      expected += j.deaths.has(i) ? j.own : j.hazard;
    }
    residuals[i] = (data.event[i] ? 1 : 0) - Math.exp(lp[i]!) * expected;
  }
  let sum = 0;
  let before = -1;
  const baseline = jumps.map((j) => {
    if (j.stratum !== before) sum = 0;
    before = j.stratum;
    sum += j.hazard;
    return { stratum: names[j.stratum]!, time: j.time, hazard: sum * Math.exp(-shift) };
  });
  return { residuals, baseline };
}
