import type { CancelSignal } from "../../core/long-work.js";
import { stopIfCancelled } from "../../core/long-work.js";
import { seededRandom } from "../../core/random.js";
import {
  fitLeastSquares,
  type LeastSquaresData,
  type LeastSquaresFit,
  type LeastSquaresModel,
  type LeastSquaresOptions,
} from "./fit-least-squares.js";

export interface RestartOptions extends LeastSquaresOptions {
  /** How many further starts to try. Default 20. */
  readonly restarts?: number;
  /** Each parameter is multiplied by 10^u, u uniform in -spread..spread. Default 2. */
  readonly spread?: number;
  /** Default 1; the same seed gives the same starts. */
  readonly seed?: number;
  readonly signal?: CancelSignal;
}

export interface RestartedFit extends LeastSquaresFit {
  /** How each start ended, the given one first. */
  readonly tried: readonly { readonly rss: number; readonly stop: LeastSquaresFit["stop"] }[];
}

/**
 * Least squares from the given start and from others scattered around it in
 * powers of ten (linear parameters need no start of their own); the lowest sum
 * of squares among the converged fits is kept, or the lowest of all where none
 * converged. For problems whose given start lies in the valley of another optimum.
 *
 * @example
 * fitLeastSquaresRestarted(model, { y }, { start: [25, 39, 41.5, 39], restarts: 20, seed: 1 })
 */
export function fitLeastSquaresRestarted(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  options: RestartOptions,
): RestartedFit {
  const { restarts = 20, spread = 2, seed = 1, signal, ...plain } = options;
  const random = seededRandom(seed);
  const fits: LeastSquaresFit[] = [fitLeastSquares(model, data, plain)];
  for (let r = 0; r < restarts; r++) {
    stopIfCancelled(signal);
    const start = Array.from(
      options.start,
      (each) => each * 10 ** (spread * (2 * random.uniform() - 1)),
    );
    const inside = start.map((each, j) =>
      options.fixed?.[j] === true
        ? options.start[j]!
        : Math.min(options.upper?.[j] ?? Infinity, Math.max(options.lower?.[j] ?? -Infinity, each)),
    );
    fits.push(fitLeastSquares(model, data, { ...plain, start: inside, damping: r % 2 ? 1 : 0.01 }));
  }
  const converged = fits.filter((each) => each.converged);
  const best = (converged.length > 0 ? converged : fits).reduce((a, b) => (b.rss < a.rss ? b : a));
  return { ...best, tried: fits.map(({ rss, stop }) => ({ rss, stop })) };
}
