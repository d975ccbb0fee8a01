import { requireList } from "../../core/require-numbers.js";

/**
 * Continuous-time first-order autocorrelation: two residuals of one group that
 * lie `d` apart on the time axis have correlation `phi ** d`, 0 <= phi < 1.
 * Times may be irregular. Source: Jones (1993), Longitudinal Data with Serial
 * Correlation; the same structure as "CAR1" in general-purpose software.
 */

/**
 * Correlation of each row with the row before it in its group (0 for a group's
 * first row). Rows of a group lie together, times rising.
 *
 * @example neighbourCorrelations([0, 1, 3], Int32Array.of(0, 3), 0.5) // 0, 0.5, 0.25
 */
export function neighbourCorrelations(
  times: ArrayLike<number>,
  starts: Int32Array,
  phi: number,
  out: Float64Array = new Float64Array(times.length),
): Float64Array {
  requireList("neighbourCorrelations", "times", times);
  const logPhi = Math.log(phi);
  for (let g = 0; g + 1 < starts.length; g++) {
    for (let i = starts[g]!; i < starts[g + 1]!; i++) {
      out[i] = i === starts[g] || phi === 0 ? 0 : Math.exp(logPhi * (times[i]! - times[i - 1]!));
    }
  }
  return out;
}

/**
 * Makes rows with this correlation independent, in place: each row becomes its
 * innovation (row - r * row before) / sqrt(1 - r^2). `rows` is n x width, row by
 * row. Returns log det of the correlation matrix, the sum of log(1 - r^2).
 *
 * @example whitenRows(Float64Array.of(1, 2, 3), 1, [0, 0.5, 0.5]) // -0.575364
 */
export function whitenRows(rows: Float64Array, width: number, correlations: Float64Array): number {
  requireList("whitenRows", "correlations", correlations);
  let logDet = 0;
  for (let i = correlations.length - 1; i >= 0; i--) {
    const r = correlations[i]!;
    if (r === 0) continue;
    const rest = -Math.expm1(2 * Math.log(r));
    const scale = 1 / Math.sqrt(rest);
    logDet += Math.log(rest);
    const at = i * width;
    for (let j = 0; j < width; j++) {
      rows[at + j] = (rows[at + j]! - r * rows[at - width + j]!) * scale;
    }
  }
  return logDet;
}

/** Draws a standard series with this correlation from independent standard normals, in place. */
export function correlateSeries(values: Float64Array, correlations: Float64Array): void {
  for (let i = 1; i < values.length; i++) {
    const r = correlations[i]!;
    if (r !== 0) values[i] = r * values[i - 1]! + Math.sqrt(1 - r * r) * values[i]!;
  }
}
