import { units } from "../units/quantity.js";
import type { NetWeighing, SuspectedSlip, WeighingRow } from "./animal-series.js";

/** A way in which a true weighing may have become the written one. */
export interface SlipCandidate {
  readonly kind: SuspectedSlip["kind"];
  readonly netG: number;
  /** Minus the logarithm of how likely this slip is beforehand, on a common scale. */
  readonly cost: number;
}

const POUND_IN_G = units.lb.scale;
const POUND_IN_KG = POUND_IN_G / 1000;
const OUNCE_IN_G = units.oz.scale;

/** A reading turned back from another unit need not be a whole number of grams. */
const inOtherUnits: ReadonlySet<SuspectedSlip["kind"]> = new Set([
  "pounds for kilograms",
  "pounds for grams",
  "ounces for grams",
]);

/**
 * What may have been meant by a written reading: decimal places, units, digits
 * and tare. A kind names what was done to the truth: "thousandth" is kilograms
 * written where grams belong. `usualTareG` is what is taken off on that scale,
 * where known. Costs are working values of this project.
 */
export function slipCandidates(row: WeighingRow, usualTareG: number | null): SlipCandidate[] {
  const tare = row.tareG ?? 0;
  const found: SlipCandidate[] = [];
  const add = (kind: SlipCandidate["kind"], readingG: number, cost: number) => {
    // Scales show whole grams; a correction that is none is that much less likely.
    const odd = inOtherUnits.has(kind) || Number.isInteger(readingG) ? 0 : Math.log(10);
    if (readingG - tare > 0) found.push({ kind, netG: readingG - tare, cost: cost + odd });
  };
  // A whole number multiplied up ends in zeros, as a true reading seldom does.
  const round = Number.isInteger(row.massG) ? Math.log(10) : 0;
  add("tenth", row.massG * 10, 1 + round);
  add("times ten", row.massG / 10, 1);
  add("thousandth", row.massG * 1000, 0.5 + 2 * round);
  add("thousand", row.massG / 1000, 0.5);
  add("pounds for kilograms", row.massG * POUND_IN_KG, 2.5);
  add("pounds for kilograms", row.massG / POUND_IN_KG, 2.5);
  add("pounds for grams", row.massG * POUND_IN_G, 2.5);
  add("ounces for grams", row.massG * OUNCE_IN_G, 2.5);
  add("ounces for grams", row.massG / OUNCE_IN_G, 3);

  // Reading and tare both written in the other unit.
  if (tare > 0 && row.massG > tare) {
    const net = row.massG - tare;
    found.push({ kind: "thousandth", netG: net * 1000, cost: 0.5 });
    found.push({ kind: "pounds for kilograms", netG: net * POUND_IN_KG, cost: 3 });
    found.push({ kind: "pounds for kilograms", netG: net / POUND_IN_KG, cost: 3 });
    found.push({ kind: "pounds for grams", netG: net * POUND_IN_G, cost: 3 });
    found.push({ kind: "ounces for grams", netG: net * OUNCE_IN_G, cost: 3 });
  }

  // A reading turned into grams from another unit has digits that nobody wrote.
  if (Math.abs(100 * row.massG - Math.round(100 * row.massG)) < 1e-6) digitSlips(row.massG, add);

  if (usualTareG !== null && usualTareG > 0 && tare < 0.2 * usualTareG)
    found.push({ kind: "tare forgotten", netG: row.massG - usualTareG, cost: 1 });
  return found.filter((c) => c.netG > 0);
}

function digitSlips(
  massG: number,
  add: (kind: SlipCandidate["kind"], readingG: number, cost: number) => void,
): void {
  const text = String(massG);
  const neighbours = Math.max(1, text.length - 1);
  for (const [reading, near] of digitSwaps(text))
    add("digits swapped", reading, (near ? 1.5 : 3) + Math.log(neighbours));
  for (const reading of digitInsertions(text))
    add("digit dropped", reading, 1.5 + Math.log(text.length + 1));
}

/** Two digits exchanged: the reading, and whether they were neighbours. */
function digitSwaps(text: string): [number, boolean][] {
  const places = [...text].flatMap((c, i) => (/\d/.test(c) ? [i] : []));
  const found = new Map<number, boolean>();
  for (let a = 0; a < places.length; a++) {
    for (let b = a + 1; b < places.length; b++) {
      const i = places[a]!;
      const j = places[b]!;
      if (text[i] === text[j]) continue;
      const chars = [...text];
      chars[i] = text[j]!;
      chars[j] = text[i]!;
      const value = Number(chars.join(""));
      if (!found.has(value)) found.set(value, b === a + 1);
    }
  }
  return [...found];
}

/** A digit put back in. */
function digitInsertions(text: string): number[] {
  const found = new Set<number>();
  const whole = text.split(".")[0]!.length;
  for (let i = 0; i <= whole; i++)
    for (let d = i === 0 ? 1 : 0; d <= 9; d++)
      found.add(Number(text.slice(0, i) + String(d) + text.slice(i)));
  return [...found];
}

/** The tare usually taken off on a scale by a method: the median of those above zero. */
export function usualTares(weighings: readonly NetWeighing[]): ReadonlyMap<string, number> {
  const tares = new Map<string, number[]>();
  for (const { row } of weighings) {
    if (row.tareG === null || row.tareG <= 0) continue;
    const key = tareKey(row);
    const list = tares.get(key);
    if (list === undefined) tares.set(key, [row.tareG]);
    else list.push(row.tareG);
  }
  const usual = new Map<string, number>();
  for (const [key, list] of tares) {
    if (list.length < 3) continue;
    list.sort((a, b) => a - b);
    usual.set(key, list[list.length >> 1]!);
  }
  return usual;
}

export const tareKey = (row: WeighingRow) => `${row.scaleId ?? ""}|${row.method ?? ""}`;
