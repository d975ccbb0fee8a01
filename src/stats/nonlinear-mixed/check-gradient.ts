import { UsageError } from "../../core/usage-error.js";
import { centralDifference } from "../numeric/central-difference.js";
import type { MeanFunction } from "./model.js";

/**
 * Holds the gradient that a mean function writes against differences of its
 * values, at nine points of x. A gradient that is never written leaves zeros in
 * place and looks like data that identify nothing; one with a wrong sign sends the
 * search away. Where most points agree nothing is said: a curve may have a kink.
 *
 * @param phi parameters on the natural scale to check at
 * @throws UsageError naming the parameter, the point, what was written and what the differences say.
 */
export function checkMeanGradient(
  mean: MeanFunction,
  parameters: readonly string[],
  x: Float64Array,
  phi: Float64Array,
): void {
  const k = parameters.length;
  const sorted = x.slice().sort();
  const written = new Float64Array(k);
  const spare = new Float64Array(k);
  const off = new Int32Array(k);
  const example: string[] = [];
  let looked = 0;
  for (let point = 0; point < 9; point++) {
    const at = sorted[Math.floor(((sorted.length - 1) * point) / 8)]!;
    written.fill(Number.NaN);
    const value = mean(at, phi, written, 0);
    if (!Number.isFinite(value)) continue;
    looked++;
    for (let j = 0; j < k; j++) {
      const moved = Float64Array.from(phi);
      const slope = centralDifference((v) => mean(at, v as Float64Array, spare, 0), moved, j);
      const scale = Math.max(Math.abs(slope), Math.abs(value) / Math.max(Math.abs(phi[j]!), 1e-12));
      const held = Math.abs(written[j]! - slope) <= 1e-2 * scale || !Number.isFinite(slope);
      if (held) continue;
      off[j]!++;
      example[j] ??=
        `at x = ${at} ${Number.isNaN(written[j]!) ? "none was written" : `${written[j]} was written`}, differences say ${Number(slope.toPrecision(6))}`;
    }
  }
  const wrong = parameters.findIndex((_, j) => 2 * off[j]! > looked);
  if (wrong < 0) return;
  throw new UsageError({
    needed: `the derivative by ${parameters[wrong]} in out[at + ${wrong}]`,
    came: example[wrong]!,
    where: "fitNonlinearMixed, mean",
    todo: "Write all derivatives of the mean function at each call, by the parameters on their natural scale.",
  });
}
