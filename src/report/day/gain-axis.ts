import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { GainAxis } from "../section/board.js";

/**
 * The axis that the gains of a page share, %/d: all estimates and contemporaries
 * lie on it, and zero; an interval may go on past its end.
 *
 * @example gainAxis(animals) // { from: -1, to: 3, ticks: [-1, 0, 1, 2, 3] }
 */
export function gainAxis(animals: readonly AnimalAnalysis[]): GainAxis {
  const values = animals.flatMap((a) => {
    const own = a.gain.recent.relative.value;
    return [...(own === null ? [] : [own]), ...(a.z?.gain.others ?? [])];
  });
  const [low, high] = [Math.min(0, ...values), Math.max(0, ...values)];
  const step = [0.5, 1, 2, 5, 10, 20].find((s) => (high - low) / s <= 4) ?? 50;
  const from = Math.min(-step, Math.floor(low / step) * step);
  const to = Math.max(step, Math.ceil(high / step) * step);
  const n = Math.round((to - from) / step);
  return { from, to, ticks: Array.from({ length: n + 1 }, (_, k) => from + k * step) };
}
