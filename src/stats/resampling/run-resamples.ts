import { type LongWork, stopIfCancelled } from "../../core/long-work.js";
import { type Random, seededRandom } from "../../core/random.js";

/**
 * Runs `total` resamples, each with its own numbered stream of random numbers (so
 * that the result does not depend on how the work is cut), reports progress and
 * lets other work in between, so that a signal can arrive.
 */
export async function runResamples<T>(
  total: number,
  doing: string,
  work: LongWork,
  one: (random: Random, index: number) => T,
): Promise<T[]> {
  const root = seededRandom(work.seed ?? 1);
  const out: T[] = [];
  let pause = Date.now() + 50;
  for (let b = 0; b < total; b++) {
    stopIfCancelled(work.signal);
    out.push(one(root.split(b), b));
    if (Date.now() >= pause) {
      work.onProgress?.({ done: b + 1, total, doing });
      await new Promise((resolve) => setTimeout(resolve, 0));
      pause = Date.now() + 50;
    }
  }
  work.onProgress?.({ done: total, total, doing });
  return out;
}
