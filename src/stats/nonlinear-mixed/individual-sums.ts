import type { MeanFunction } from "./model.js";
import type { PopulationModel } from "./prior.js";

/** A weighted sum of an individual's curve at some x: [{ x, weight: 1 }] is the curve there. */
export type CurveSum = readonly { readonly x: number; readonly weight: number }[];

/** One individual's sums, with their slopes by working-scale parameter. */
export function individualSums(population: PopulationModel, mean: MeanFunction) {
  const k = population.parameters.length;
  const phi = new Float64Array(k);
  const scale = new Float64Array(k);
  const d = new Float64Array(k);
  return {
    place(centre: readonly number[], offset: Float64Array): void {
      for (let j = 0; j < k; j++) {
        const eta = centre[j]! + (offset[j] ?? 0);
        phi[j] = population.logScale[j] === 1 ? Math.exp(eta) : eta;
        scale[j] = population.logScale[j] === 1 ? phi[j]! : 1;
      }
    },
    value(sum: CurveSum, slopes: Float64Array): number {
      slopes.fill(0);
      let value = 0;
      for (const { x, weight } of sum) {
        value += weight * mean(x, phi, d, 0);
        for (let j = 0; j < k; j++) slopes[j]! += weight * d[j]! * scale[j]!;
      }
      return value;
    },
  };
}
