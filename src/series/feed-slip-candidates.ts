import { units } from "../units/quantity.js";
import type { FeedSlipKind } from "./animal-series.js";

/** A way in which a true feed may have become the written one. */
export interface FeedSlipCandidate {
  readonly kind: FeedSlipKind;
  /** What was offered then; null where the slip does not tell. */
  readonly offeredG: number | null;
  /** By what the refusal is multiplied too: both were written in the other unit. */
  readonly factor: number;
  /** How far it is from what this animal is usually offered, as a squared misfit, and how rare the slip is. */
  readonly cost: number;
}

const POUND_IN_G = units.lb.scale;
const OUNCE_IN_G = units.oz.scale;
/** How much one feed differs from the usual one for honest reasons (log scale, working value). */
const USUAL_SPREAD = 0.08;
/** A correction explains a feed that it brings within three spreads of the usual one. */
const EXPLAINED = 3;
/** What a bottle may weigh (working value). */
const BOTTLE_G = [25, 1000] as const;

/**
 * What may have been meant by a feed that is far from the usual one: digits,
 * units, the day's total, the bottle. Best first. A kind names what was done to
 * the truth: "digit left out" is 7 g written for 75 g.
 */
export function feedSlipCandidates(
  offeredG: number,
  usualG: number,
  feedsPerDay: number | null,
): FeedSlipCandidate[] {
  const found: FeedSlipCandidate[] = [];
  const add = (kind: FeedSlipKind, g: number, cost: number, factor = 1) => {
    const misfit = g > 0 ? Math.log(g / usualG) / USUAL_SPREAD : Number.POSITIVE_INFINITY;
    if (Math.abs(misfit) <= EXPLAINED)
      found.push({ kind, offeredG: g, factor, cost: cost + misfit ** 2 / 2 });
  };
  for (const tens of [10, 100]) {
    add("digit added", offeredG / tens, 0.5);
    add("digit left out", offeredG * tens, 0.5);
  }
  // A cell turned into grams from another unit has digits that nobody wrote.
  if (Math.abs(100 * offeredG - Math.round(100 * offeredG)) < 1e-6) {
    const text = String(offeredG);
    const spread = Math.log(text.length + 1);
    for (const g of without(text)) add("digit added", g, 1 + spread);
    for (const g of withOneMore(text)) add("digit left out", g, 2 + spread);
  }
  add("kilograms for grams", offeredG * 1000, 0.5, 1000);
  add("kilograms for grams", offeredG / 1000, 0.5, 1 / 1000);
  add("ounces for grams", offeredG * OUNCE_IN_G, 1.5, OUNCE_IN_G);
  add("ounces for grams", offeredG / OUNCE_IN_G, 2.5, 1 / OUNCE_IN_G);
  add("pounds for grams", offeredG * POUND_IN_G, 2, POUND_IN_G);
  if (feedsPerDay !== null && feedsPerDay >= 3) add("day's total", offeredG / feedsPerDay, 0.5 + 1);
  const more = offeredG - usualG;
  if (more >= BOTTLE_G[0] && more <= BOTTLE_G[1])
    found.push({ kind: "bottle not taken off", offeredG: null, factor: 1, cost: 5 });
  return found.sort((a, b) => a.cost - b.cost);
}

/** The reading with one of its digits left out. */
function without(text: string): number[] {
  return [...text].flatMap((c, i) =>
    /\d/.test(c) ? [Number(text.slice(0, i) + text.slice(i + 1))] : [],
  );
}

/** The reading with a digit put back in. */
function withOneMore(text: string): number[] {
  const whole = text.split(".")[0]!.length;
  const found: number[] = [];
  for (let i = 0; i <= whole; i++)
    for (let d = i === 0 ? 1 : 0; d <= 9; d++)
      found.push(Number(text.slice(0, i) + String(d) + text.slice(i)));
  return found;
}
