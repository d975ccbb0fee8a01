import { type Notice, notice } from "../core/notice.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { SeasonPair } from "./season-pair.js";
import { type SeasonSpread, seasonAgainstPast, seasonSpread } from "./season-spread.js";

/** A season in which, as the records say, the protocol was another than before. */
export interface ProtocolChangeSeason {
  readonly season: string;
  readonly what: string;
}

/**
 * What a comparison of seasons can and cannot say about a protocol: the season,
 * not the animal, is the unit. With one season under a protocol the two cannot
 * be told apart; the difference is set beside the spread of the other seasons.
 */
export function protocolStatements(
  model: AdjustedModel,
  between: SeasonSpread | null,
  pairs: readonly SeasonPair[],
  changes: readonly ProtocolChangeSeason[],
  level: number,
): Notice[] {
  if (pairs.length === 0) return [];
  const out: Notice[] = [notice("season-is-the-unit", "caution")];
  const means = model.seasons.map((name, i) => ({
    name,
    mean: model.adjustedMeans[i]!,
    se: model.residualSd * Math.sqrt(model.unscaled[i]![i]!),
  }));
  const changed = changes.filter((c) => model.seasons.includes(c.season));
  for (const { season, what } of changed) {
    const others = means.filter((m) => !changed.some((c) => c.season === m.name));
    const own = means.find((m) => m.name === season)!;
    out.push(notice("season-protocol-confounded", "caution", { season, what }));
    const past = seasonAgainstPast(own, others, level);
    const spread = seasonSpread(
      others.map((m) => m.mean),
      others.map((m) => m.se),
      level,
    );
    if (past === null || spread === null) {
      out.push(notice("season-no-past", "caution"));
      continue;
    }
    out.push(
      pastSpread(spread, past.difference, level),
      notice("season-against-past", "info", {
        season,
        past: past.past,
        difference: past.difference,
        lower: past.expected.lower,
        upper: past.expected.upper,
        p: past.p,
        df: past.df,
      }),
    );
  }
  if (changed.length === 0) {
    const largest = pairs.reduce((a, b) =>
      Math.abs(b.difference.value ?? 0) > Math.abs(a.difference.value ?? 0) ? b : a,
    );
    out.push(
      between === null || between.n < 3
        ? notice("season-no-past", "caution")
        : pastSpread(between, largest.difference.value ?? 0, level),
    );
  }
  return out;
}

function pastSpread(spread: SeasonSpread, difference: number, level: number): Notice {
  return notice("season-past-spread", "info", {
    n: spread.n,
    sd: spread.betweenSd,
    lower: spread.interval?.lower ?? null,
    upper: spread.interval?.upper ?? null,
    level,
    difference,
  });
}
