import type { AnimalSeries } from "../series/animal-series.js";

/**
 * The formula that an animal ate most of, by weight; null where none was fed.
 *
 * @example mainFormula(series) // "otter-formula-2"
 */
export function mainFormula(series: AnimalSeries): string | null {
  const grams = new Map<string, number>();
  for (const f of series.feeds)
    if (f.composition?.kind === "formula" && f.dietId !== null)
      grams.set(f.dietId, (grams.get(f.dietId) ?? 0) + (f.eatenG ?? f.eatenLowG));
  const best = [...grams].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0];
  return best?.[0] ?? null;
}
