import { runSteps } from "../../../src/core/steps.js";
import { type WatchedSoFar, watchOn } from "../../../src/flags/watch/watch-group.js";
import type { WatchHistory } from "../../../src/flags/watch/watch-history.js";
import type { PopulationSummary } from "../../../src/reference/population-summary.js";
import {
  normalMixtureQuantile,
  type WeighedNormal,
} from "../../../src/stats/distributions/normal-mixture.js";
import { firstPassage } from "../../../src/stats/state-space/first-passage.js";
import type { PathPart } from "../../../src/stats/state-space/path-ahead.js";
import { trueForecast } from "./true-forecast.js";
import { watchedOf } from "./watch-world.js";
import { drawTrueNursery, stream, type World } from "./world.js";

const aheadD = 14;
/** Farther ahead no day is given. */
const horizonD = 120;

/** One forecast of one animal of the last season, and what came. Masses as ln. */
export interface TriedForecast {
  /** Mass itself 14 days on, and a weighing about then (null where there was none). */
  readonly mass: Tried;
  readonly weighing: Tried | null;
  readonly trueMass: Tried;
  /** Days to the target, capped at the end of the record; `held` knows what the cap means. */
  readonly days: Tried | null;
  readonly trueDays: Tried;
}

export interface Tried {
  readonly lower: number;
  readonly upper: number;
  readonly came: number;
  readonly held: boolean;
  /** Interval score at 95 % (Gneiting and Raftery 2007, equation 43). */
  readonly score: number;
  /** Middle of the forecast less what came. */
  readonly off: number;
}

export interface ForecastDesign {
  readonly size: number;
  readonly before: "nothing" | "two seasons" | "prior file";
}

/** Forecasts at two moments of one nursery's season, each from what was weighed by then. */
export function forecastsOf(
  world: World,
  design: ForecastDesign,
  priors: readonly PopulationSummary[],
  seed: number,
): TriedForecast[] {
  const seasons = design.before === "two seasons" ? [8, 8, design.size] : [design.size];
  const drawn = drawTrueNursery(world, { seasons }, seed);
  const { house, ofSeason, animals } = drawn;
  const watched = animals.map(watchedOf);
  const last = seasons.length - 1;
  const r = stream(seed + 7);
  for (let i = 0; i < 8; i++) r.uniform();
  const first = Math.min(...animals.filter((a) => a.season === last).map((a) => a.arrival));
  const moments = [
    first + 12 + Math.floor(18 * r.uniform()),
    first + 34 + Math.floor(14 * r.uniform()),
  ];
  let history: WatchHistory | "begin" = "begin";
  const out: TriedForecast[] = [];
  for (const now of moments) {
    const options = design.before === "prior file" ? { priors } : {};
    const found: WatchedSoFar = runSteps(
      watchOn(history, watched, now, options, () => {}, Number.POSITIVE_INFINITY),
    );
    history = found.history!;
    const season = found.seasons.at(-1)!;
    animals.forEach((a, i) => {
      const u = r.uniform();
      const w = season.works.find((x) => x.source.id === a.id);
      if (a.season !== last || w === undefined || w.count < 4 || now - w.lastDay > 7) return;
      const d = now - a.arrival;
      const end = a.trueLogMass.length - 1;
      if (d + aheadD > end) return;
      const age0 = a.age[0]! - (a.day[0]! - a.arrival) - clockOf(a.age, a.day);
      const from = Math.max(age0 + d, w.lastTime);
      const times = [from, ...Array.from({ length: horizonD }, (_, k) => age0 + d + k + 1)];
      const ofPart = (parts: readonly PathPart[], k: number): WeighedNormal[] =>
        parts.map((p) => ({ weight: p.weight, mean: p.mean[k]!, sd: p.sd[k]! }));
      const level = season.pathAhead(w, times, "level");
      const path = times.map((_, k) => ofPart(level, k));
      const seedOf = seed * 31 + i;
      const ahead = times.slice(0, end - d + 1);
      const truth = trueForecast(world, house, ofSeason, watched[i]!, w.count, age0, ahead, seedOf);
      const mass = tried(path[aheadD]!, a.trueLogMass[d + aheadD]!);
      const trueMass = tried(truth[aheadD]!, a.trueLogMass[d + aheadD]!);
      const near = a.day.findIndex((x) => Math.abs(x - now - aheadD) <= 1 && x > now + aheadD - 2);
      let weighing: Tried | null = null;
      if (near >= 0) {
        const at = a.age[near]!;
        const steps = times.filter((t) => t < at - 0.5);
        const read = season.pathAhead(w, [...steps, at], "value");
        weighing = tried(ofPart(read, steps.length), a.logMass[near]!);
      }
      const target = a.trueLogMass[d]! + 0.04 + 0.22 * u;
      let came = Number.POSITIVE_INFINITY;
      for (let k = d + 1; k <= end && came === Number.POSITIVE_INFINITY; k++)
        if (a.trueLogMass[k]! >= target) {
          const before = a.trueLogMass[k - 1]!;
          came = k - 1 - d + (target - before) / (a.trueLogMass[k]! - before);
        }
      const passed = firstPassage(times, path, target);
      const days =
        passed.timeOf(0.5) === null
          ? null
          : triedDays((p) => passed.timeOf(p), age0 + d, came, end - d);
      const truly = firstPassage(ahead, truth, target);
      const trueDays = triedDays((p) => truly.timeOf(p), age0 + d, came, end - d);
      out.push({ mass, weighing, trueMass, days, trueDays });
    });
  }
  return out;
}

function clockOf(age: readonly number[], day: readonly number[]): number {
  // Ages begin at whole days from an unknown start; clocks scatter about none.
  const all = age.map((a, j) => a - day[j]!).sort((x, y) => x - y);
  const middle = all[all.length >> 1]!;
  return age[0]! - day[0]! - middle;
}

function tried(parts: readonly WeighedNormal[], came: number): Tried {
  const lower = normalMixtureQuantile(parts, 0.025);
  const upper = normalMixtureQuantile(parts, 0.975);
  return {
    lower,
    upper,
    came,
    held: came >= lower && came <= upper,
    score: intervalScore(lower, upper, came),
    off: normalMixtureQuantile(parts, 0.5) - came,
  };
}

function triedDays(
  timeOf: (share: number) => number | null,
  now: number,
  came: number,
  cap: number,
): Tried {
  const capped = (t: number | null) => Math.min(cap, t === null ? cap : Math.max(0, t - now));
  const lower = capped(timeOf(0.025));
  const upper = capped(timeOf(0.975));
  const seen = Math.min(came, cap);
  const late = timeOf(0.975);
  return {
    lower,
    upper,
    came: seen,
    held: seen >= lower && (came > cap ? late === null || late - now >= cap : seen <= upper),
    score: intervalScore(lower, upper, seen),
    off: capped(timeOf(0.5)) - seen,
  };
}

function intervalScore(lower: number, upper: number, came: number): number {
  const miss = Math.max(0, lower - came) + Math.max(0, came - upper);
  return upper - lower + (2 / 0.05) * miss;
}
