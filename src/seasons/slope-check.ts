import { fCumulative } from "../stats/distributions/f.js";
import { applyQTransposed, householderQr } from "../stats/linear-algebra/householder-qr.js";
import { matrixFromRows } from "../stats/linear-algebra/matrix.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { SeasonGain } from "./season-gain.js";

/** Does gain depend on arrival mass alike in all seasons? */
export interface SlopeCheck {
  readonly f: number;
  readonly df1: number;
  readonly df2: number;
  readonly p: number;
  /** Change of gain per kg of arrival mass, g/d per kg, season by season. */
  readonly slopes: readonly { readonly season: string; readonly perKg: number | null }[];
}

/**
 * F test of season x arrival mass added to the adjusted model. It is shown and
 * never used to choose a model. Null where arrival mass is not in the model or
 * fewer than three degrees of freedom remain.
 */
export function slopeCheck(
  animals: readonly SeasonGain[],
  seasons: readonly string[],
  model: AdjustedModel,
): SlopeCheck | null {
  if (!model.used.includes("arrival mass") || seasons.length < 2) return null;
  const k = seasons.length;
  const massAt = k; // arrival mass is the first column after the seasons
  const wide = model.design.map((row) => [
    ...row.slice(0, k),
    ...row.slice(massAt + 1),
    ...seasons.map((_, s) => row[s]! * row[massAt]!),
  ]);
  const qr = householderQr(matrixFromRows(wide));
  const p = wide[0]!.length;
  const df2 = animals.length - p;
  if (qr.rank < p || df2 < 3) return null;
  const effects = applyQTransposed(qr, model.response);
  let rss = 0;
  for (let i = p; i < animals.length; i++) rss += effects[i]! ** 2;
  const rss0 = model.residualSd ** 2 * model.df;
  const df1 = k - 1;
  const f = Math.max(0, (rss0 - rss) / df1) / (rss / df2);
  return {
    f,
    df1,
    df2,
    p: fCumulative(f, df1, df2, "upper"),
    slopes: seasons.map((season) => ({ season, perKg: slopeWithin(animals, season) })),
  };
}

function slopeWithin(animals: readonly SeasonGain[], season: string): number | null {
  const members = animals.filter((a) => a.season === season);
  const n = members.length;
  if (n < 3) return null;
  const mx = members.reduce((s, a) => s + a.arrivalMassG / 1000, 0) / n;
  const my = members.reduce((s, a) => s + a.gain, 0) / n;
  let sxx = 0;
  let sxy = 0;
  for (const a of members) {
    sxx += (a.arrivalMassG / 1000 - mx) ** 2;
    sxy += (a.arrivalMassG / 1000 - mx) * (a.gain - my);
  }
  return sxx > 0 ? sxy / sxx : null;
}
