import type { AnimalSeries, Instant, SeriesFeed } from "../series/animal-series.js";
import { firstAfter } from "../series/rows-between.js";
import { mayBePresent, type Sign } from "../series/signs/sign.js";
import { hourMs } from "../units/hour-ms.js";
import { type Bounds, between } from "./bounds.js";

/** What was eaten over a stretch, what of it came up again, and what was kept. */
export interface KeptIntake {
  /** g; for appetite, for whether an order was kept, and for overfeeding. */
  readonly eatenG: Bounds;
  /** g; where it was not weighed, from none to all that was eaten in the 6 h before. */
  readonly cameUpG: Bounds;
  /** g; for growth, energy and conversion. */
  readonly keptG: Bounds;
  /** Lines that tell of something that came up; one in doubt counts from none on. */
  readonly times: number;
}

/** A meal is taken to have left the stomach after so long (common practice). */
const upToH = 6;

/**
 * Eaten and kept over a stretch `(from, to]`. A millilitre that came up counts as a
 * gram. What several lines brought up together never exceeds what was eaten before it.
 *
 * @returns grams, as bounds: a refusal left blank and an amount not weighed widen them.
 * @example keptIntake(series, from, to).keptG // { low: 380, high: 460, value: null }
 */
export function keptIntake(series: AnimalSeries, from: Instant, to: Instant): KeptIntake {
  const fed = rowsAfter(series.feeds, from, to);
  const low = fed.reduce((sum, f) => sum + f.eatenLowG, 0);
  const high = fed.reduce((sum, f) => sum + f.eatenHighG, 0);
  const lines = series.signs.filter((s) => s.at > from && s.at <= to && cameUp(s));
  let upLow = 0;
  let upHigh = 0;
  for (const sign of lines) {
    const [least, most] = broughtUp(sign, series.feeds);
    upLow += least;
    upHigh += most;
  }
  const up = between(Math.min(upLow, high), Math.min(upHigh, high));
  return {
    eatenG: between(low, high),
    cameUpG: up,
    keptG: between(Math.max(0, low - up.high!), Math.max(0, high - up.low)),
    times: lines.length,
  };
}

/** What is kept is known well enough to set gain against it up to this width, as a share of it. */
export const keptKnownTo = 0.15;

/**
 * Share of what was eaten over a stretch `[from, to)` that was kept, as bounds; `null`
 * where what came up leaves it open by more than 15 %. A refusal left blank is no part
 * of this: it widens what was eaten.
 *
 * @example keptShare(series, from, to) // { low: 0.97, high: 1, value: null }
 */
export function keptShare(series: AnimalSeries, from: Instant, to: Instant): Bounds | null {
  const { eatenG, cameUpG, times } = keptIntake(series, from - 1, to - 1);
  if (times === 0 || cameUpG.high === 0) return between(1, 1);
  const least = 1 - Math.min(1, cameUpG.high! / Math.max(eatenG.low, 1e-9));
  const most = 1 - cameUpG.low / Math.max(eatenG.high ?? eatenG.low, 1e-9);
  return most - least > keptKnownTo * most ? null : between(Math.max(0, least), most);
}

/** The feeds of `(from, to]`. */
const rowsAfter = (feeds: readonly SeriesFeed[], from: Instant, to: Instant) =>
  feeds.slice(firstAfter(feeds, from), firstAfter(feeds, to));

function cameUp(sign: Sign): boolean {
  if (sign.kind === "vomit" || sign.kind === "regurgitation") return mayBePresent(sign);
  return sign.findings.includes("vomit") || sign.findings.includes("regurgitation");
}

/** Least and most of what one line brought up, g. */
function broughtUp(sign: Sign, feeds: readonly SeriesFeed[]): readonly [number, number] {
  const before = rowsAfter(feeds, sign.at - upToH * hourMs, sign.at).reduce(
    (sum, f) => sum + f.eatenHighG,
    0,
  );
  if (sign.amount !== null) {
    const g = Math.min(sign.amount.value, before);
    return [sign.sure ? g : 0, g];
  }
  return [0, before];
}
