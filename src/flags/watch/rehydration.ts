/**
 * Extra standard deviation of ln mass of the first weighings after the arrival
 * phase. The phase ends when the mass of admission is regained, and rehydration
 * may go on for a day or two: gain there is not growth, and taken at face value it
 * makes every animal's gain look restless. Common practice, no source; checks at arrival
 * are part of the worlds on which false flags are measured (bench `early`).
 */
const extraSd = [0.04, 0.03, 0.015];

/**
 * Variance of ln mass to add to the weighing number `index` (from 0) after the arrival phase.
 *
 * @example rehydrationVariance(0) // 0.0016
 * @example rehydrationVariance(3) // 0
 */
export function rehydrationVariance(index: number): number {
  return (extraSd[index] ?? 0) ** 2;
}
