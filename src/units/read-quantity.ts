import { convert, dimensionOf, type UnitName, unitNamed } from "./quantity.js";

export type DecimalMark = "point" | "comma";

/** What became of a text that should be a number, perhaps with its unit. */
export type QuantityReading =
  | { readonly kind: "number"; readonly value: number; readonly unit: UnitName | null }
  | { readonly kind: "not a number" }
  /** Two readings are possible, e.g. "1,250": one and a quarter, or twelve hundred and fifty? */
  | { readonly kind: "ambiguous"; readonly readings: readonly [number, number] }
  | { readonly kind: "unknown unit"; readonly text: string };

/**
 * No instrument of a nursery tells less than a millionth of a unit from nothing, and
 * dividing by what is smaller ends beyond every number: it is read as no number.
 */
export const smallestMeasured = 1e-6;

/**
 * Reads a number as people write it, with the study's decimal mark; spaces and
 * apostrophes may group thousands. The other mark is taken as a group mark
 * only where it groups threes beside a decimal mark ("1.234,5"); alone ("1,250")
 * it is said to be ambiguous, never guessed.
 *
 * @example readNumber("1850", "point") // { kind: "number", value: 1850, unit: null }
 * @example readNumber("1,85", "comma").value // 1.85
 */
export function readNumber(text: string, decimal: DecimalMark): QuantityReading {
  const plain = text.trim();
  if (plainNumber.test(plain)) {
    if (decimal === "comma" && groupedByPoint.test(plain)) {
      return ambiguous(plain.replaceAll(".", ""), plain);
    }
    return numberOf(plain);
  }
  let t = plain.replace(/^[−–]/, "-");
  if (!/^[+-]?[\d.,' \u00a0\u202f]+(e[+-]?\d+)?$/i.test(t)) return { kind: "not a number" };
  if (/[' \u00a0\u202f]/.test(t)) {
    if (!/^[+-]?\d{1,3}(?:[' \u00a0\u202f]\d{3})+(?:[.,]\d+)?$/.test(t))
      return { kind: "not a number" };
    t = t.replace(/[' \u00a0\u202f]/g, "");
  }
  const mark = decimal === "comma" ? "," : ".";
  const other = decimal === "comma" ? "." : ",";
  if (!t.includes(other)) return numberOf(t.replace(mark, "."));
  const escaped = other === "." ? "\\." : ",";
  if (t.includes(mark)) {
    const grouped = new RegExp(`^[+-]?\\d{1,3}(?:${escaped}\\d{3})+[${mark}]\\d+$`);
    if (!grouped.test(t)) return { kind: "not a number" };
    return numberOf(t.replaceAll(other, "").replace(mark, "."));
  }
  const parts = t.split(other);
  if (parts.length > 2) {
    const onlyGroups = new RegExp(`^[+-]?\\d{1,3}(?:${escaped}\\d{3})+$`).test(t);
    return onlyGroups ? numberOf(t.replaceAll(other, "")) : { kind: "not a number" };
  }
  // A lone foreign mark. Three digits behind it: a group or a decimal. Otherwise a decimal.
  return parts[1]!.length === 3 && /^[+-]?\d{1,3}$/.test(parts[0]!)
    ? ambiguous(t.replace(other, ""), t.replace(other, "."))
    : numberOf(t.replace(other, "."));
}

/**
 * Reads a number that may carry its unit, also in two parts ("4 lb 3 oz").
 *
 * @example readQuantity("1.85 kg", "point") // { kind: "number", value: 1.85, unit: "kg" }
 * @example readQuantity("4 lb 3 oz", "point").value // 4.1875, unit "lb"
 */
export function readQuantity(text: string, decimal: DecimalMark): QuantityReading {
  const alone = readNumber(text, decimal);
  if (alone.kind !== "not a number") return alone;
  const t = text.trim();
  const two = twoParts.exec(t);
  if (two !== null) {
    const big = unitNamed(two[2]!);
    const small = unitNamed(two[4]!);
    if (big === null || small === null || dimensionOf(big) !== dimensionOf(small))
      return { kind: "unknown unit", text: t };
    const first = readNumber(two[1]!, decimal);
    const second = readNumber(two[3]!, decimal);
    if (first.kind !== "number" || second.kind !== "number") return { kind: "not a number" };
    if (second.value < 0 || convert(second.value, small, big) >= 1) return { kind: "not a number" };
    const sign = first.value < 0 || Object.is(first.value, -0) ? -1 : 1;
    return {
      kind: "number",
      value: first.value + sign * convert(second.value, small, big),
      unit: big,
    };
  }
  const one = onePart.exec(t);
  if (one === null) return { kind: "not a number" };
  const number = readNumber(one[1]!, decimal);
  if (number.kind !== "number") return number;
  const unit = unitNamed(one[2]!);
  return unit === null
    ? { kind: "unknown unit", text: one[2]!.trim() }
    : { kind: "number", value: number.value, unit };
}

const plainNumber = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d{1,3})?$/i;
const groupedByPoint = /^[+-]?\d{1,3}\.\d{3}$/;
const onePart = /^([+\-−–]?[\d.,' \u00a0\u202f]*\d[.,]?)\s*([^\d\s.,'+-][^\d]*)$/;
const twoParts = /^([+\-−–]?[\d.,]+)\s*([a-z#]+)\.?,?\s*(?:and\s+)?([\d.,]+)\s*([a-z]+)\.?$/i;

function numberOf(text: string): QuantityReading {
  const value = plainNumber.test(text) ? Number(text) : Number.NaN;
  if (!Number.isFinite(value) || (value !== 0 && Math.abs(value) < smallestMeasured))
    return { kind: "not a number" };
  // "-0" is nothing, without a sign.
  return { kind: "number", value: value === 0 ? 0 : value, unit: null };
}

function ambiguous(a: string, b: string): QuantityReading {
  return { kind: "ambiguous", readings: [Number(a), Number(b)] };
}
