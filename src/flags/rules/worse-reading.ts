import type { NetWeighing } from "../../series/animal-series.js";

/** No body loses more in a day or two (% of mass): a doubted reading below is read as its slip suggests. */
const POSSIBLE_LOSS_PCT = 30;

/**
 * What a reading under suspicion of a slip counts as where a loss is judged: the lower
 * of what was written, where a body can lose that much, and of what its slip suggests;
 * null for a mass of another day that this day cannot have.
 */
export function worseReading(w: NetWeighing, beforeG: number): number | null {
  const suggested = w.slip?.suggestedG ?? null;
  const possible = w.netG! >= beforeG * (1 - POSSIBLE_LOSS_PCT / 100);
  if (!possible && w.slip?.kind === "wrong day") return null;
  if (suggested === null) return w.netG!;
  return possible ? Math.min(w.netG!, suggested) : suggested;
}
