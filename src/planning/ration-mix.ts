import { type Notice, notice } from "../core/notice.js";
import { formatTime } from "../units/format-date.js";
import { apportionGrams } from "./apportion-grams.js";
import type { RationFeed, RationPart } from "./ration.js";
import type { EnergyDiet } from "./ration-diet.js";

/** How the grams of a day divide between formula and solid. */
export interface RationMix {
  readonly diets: readonly EnergyDiet[];
  /** Share of the grams of each diet. */
  readonly gramShares: readonly number[];
  readonly kcalPerG: number;
  readonly waterPerG: number | null;
}

/** How formula and solids share the grams so that solids give their share of the energy. */
export function mixDiets(
  diets: readonly EnergyDiet[],
  solidsEnergyPct: number | null,
  animal: string,
): RationMix | Notice {
  const formula = diets.find((d) => d.kind === "formula");
  const solid = diets.find((d) => d.kind === "solid");
  const used = [formula, solid].filter((d): d is EnergyDiet => d !== undefined);
  if (used.length === 0) return notice("ration-no-diet", "caution", { animal });
  const unknown = used.find((d) => d.kcalPerG === null);
  if (unknown !== undefined) {
    return notice("ration-diet-no-energy", "problem", { animal, diet: unknown.dietId });
  }
  const pct = formula === undefined ? 100 : solid === undefined ? 0 : (solidsEnergyPct ?? 0);
  if (!(pct >= 0 && pct <= 100)) return notice("ration-share-impossible", "problem", { pct });
  const energyShare = (d: EnergyDiet) => (d.kind === "solid" ? pct / 100 : 1 - pct / 100);
  const perKcal = used.map((d) => energyShare(d) / d.kcalPerG!);
  const total = perKcal.reduce((a, b) => a + b, 0);
  const gramShares = perKcal.map((g) => g / total);
  const water = used.map((d) => shareOfPct(d.composition.waterPct));
  return {
    diets: used,
    gramShares,
    kcalPerG: 1 / total,
    waterPerG: water.some((w) => w === null)
      ? null
      : water.reduce<number>((sum, w, i) => sum + w! * gramShares[i]!, 0),
  };
}

/**
 * Hands whole grams to diets and feeds with an exact sum. Where no feed may be
 * larger than `mostPerFeed`, the day is cut gram by gram until every feed fits.
 */
export function dealOut(
  wantedG: number,
  mix: RationMix,
  times: readonly number[],
  zone: string,
  mostPerFeed: number | null,
): { readonly feeds: readonly RationFeed[] } {
  const n = times.length;
  const solidAt = mix.diets.findIndex((d) => d.kind === "solid");
  const needs = (g: number) =>
    g === 0 ? 0 : mostPerFeed === null ? 1 : Math.ceil(g / mostPerFeed);
  let totalG = wantedG;
  let gramsOf = sharesOf(totalG, mix, n);
  const solidG = () => (solidAt === -1 ? 0 : gramsOf[solidAt]!);
  const fits = () => needs(solidG()) + needs(totalG - solidG()) <= n;
  while (totalG > 0 && !fits()) gramsOf = sharesOf(--totalG, mix, n);
  const least = needs(solidG());
  const most = n - needs(totalG - solidG());
  const inProportion = totalG === 0 ? 0 : Math.round((n * solidG()) / totalG);
  const solidFeeds = Math.min(most, Math.max(least, inProportion));
  const isSolid = times.map(
    (_, i) => Math.floor(((i + 1) * solidFeeds) / n) > Math.floor((i * solidFeeds) / n),
  );
  const feeds: RationFeed[] = [];
  mix.diets.forEach((diet, k) => {
    const own = times.filter((_, i) => isSolid[i] === (diet.kind === "solid"));
    const grams = apportionGrams(
      gramsOf[k]!,
      own.map(() => 1),
    );
    const density = diet.densityGPerMl;
    own.forEach((at, i) => {
      const g = grams[i]!;
      const ml = density !== null && density > 0 ? g / density : null;
      feeds.push({ at, time: formatTime(at, zone), dietId: diet.dietId, kind: diet.kind, g, ml });
    });
  });
  return { feeds: feeds.sort((a, b) => a.at - b.at) };
}

/** What the feeds of a day come to, diet by diet. */
export function partsOf(
  feeds: readonly RationFeed[],
  diets: readonly EnergyDiet[],
): readonly RationPart[] {
  const ids = [...new Set(feeds.map((f) => f.dietId))];
  return ids.flatMap((dietId): RationPart[] => {
    const own = feeds.filter((f) => f.dietId === dietId);
    const g = own.reduce((sum, f) => sum + f.g, 0);
    const perG = diets.find((d) => d.dietId === dietId)?.kcalPerG ?? null;
    const { kind } = own[0]!;
    const kcal = perG === null ? null : g * perG;
    return g > 0 ? [{ dietId, kind, g, feeds: own.length, kcal }] : [];
  });
}

/** Grams of each diet; with a single feed it is all of the diet with the most grams. */
function sharesOf(totalG: number, mix: RationMix, feeds: number): number[] {
  if (feeds > 1 || mix.diets.length < 2) return apportionGrams(totalG, mix.gramShares);
  const largest = mix.gramShares.indexOf(Math.max(...mix.gramShares));
  return mix.gramShares.map((_, k) => (k === largest ? totalG : 0));
}

export function shareOfPct(pct: number | null): number | null {
  return pct === null ? null : pct / 100;
}
