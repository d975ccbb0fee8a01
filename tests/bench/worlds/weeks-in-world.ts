import { chanceOfChange } from "../../../src/flags/watch/courses-ahead.js";
import { ownChange } from "../../../src/flags/watch/own-change.js";
import { watchGroup } from "../../../src/flags/watch/watch-group.js";
import { watchSettings } from "../../../src/flags/watch/watch-options.js";
import type { PopulationSummary } from "../../../src/reference/population-summary.js";
import {
  normalMixtureQuantile,
  type WeighedNormal,
} from "../../../src/stats/distributions/normal-mixture.js";
import { watchedOf } from "./watch-world.js";
import { drawNursery, stream, type World } from "./world.js";

/** A weighing about seven days ahead, and the limits that stood for it. */
export interface TriedWeek {
  readonly slope: "own" | "mean";
  readonly short: boolean;
  readonly in80: boolean;
  readonly in95: boolean;
  /** Interval score of the 95 % limits of ln mass. */
  readonly score: number;
}

/**
 * Draws one nursery and holds what was expected against the weighing found 6 to 8 days after
 * an animal's last one. With `share` its first animal gains less from 5 to 14 days before, and
 * it alone is looked at, for "goes on as of late"; else all, for that and "as any other".
 */
export function triedWeeks(
  world: World,
  animals: number,
  priors: readonly PopulationSummary[],
  seed: number,
  share: number | null,
  chance = chanceOfChange,
): TriedWeek[] {
  const r = stream(seed ^ 0x5bd1e995);
  const ofShare = share === null ? {} : { affected: { animal: 0, fromD: 16 + (seed % 14), share } };
  const nursery = drawNursery(world, { seasons: [animals], ...ofShare }, seed);
  const onset = nursery[0]!.shortFrom;
  const now =
    onset !== null
      ? onset + 5 + Math.floor(10 * r.uniform())
      : nursery[0]!.arrival + 14 + Math.floor(30 * r.uniform());
  const [season] = watchGroup(
    nursery.map(watchedOf),
    now,
    { priors },
    () => {},
    Number.POSITIVE_INFINITY,
  );
  const change = { lookBack: watchSettings({}).lookBackD, ...ownChange };
  return (season?.works ?? []).flatMap((w): TriedWeek[] => {
    const i = nursery.findIndex((a) => a.id === w.source.id);
    const a = nursery[i]!;
    if (w.count < 3 || now - w.lastDay > 4 || (onset !== null && i !== 0)) return [];
    const near = a.day.findIndex((d) => d >= w.lastDay + 6 && d <= w.lastDay + 8);
    if (near < 0) return [];
    const at = a.age[near]!;
    const times = Array.from({ length: 7 }, (_, k) => w.lastTime + k + 1).filter(
      (t) => t < at - 0.5,
    );
    const tried = (slope: "own" | "mean"): TriedWeek => {
      const ahead = { times: [...times, at], of: "value" as const, slope, change, chance };
      const parts = season!.pathAfterChange(w, ahead).map(
        (p): WeighedNormal => ({
          weight: p.weight,
          mean: p.mean[times.length]!,
          sd: p.sd[times.length]!,
        }),
      );
      const y = a.logMass[near]!;
      const q = (p: number) => normalMixtureQuantile(parts, p);
      const [low, high] = [q(0.025), q(0.975)];
      const miss = Math.max(0, low - y) + Math.max(0, y - high);
      return {
        slope,
        short: onset !== null,
        in80: y >= q(0.1) && y <= q(0.9),
        in95: miss === 0,
        score: high - low + 40 * miss,
      };
    };
    return onset === null ? [tried("own"), tried("mean")] : [tried("own")];
  });
}
