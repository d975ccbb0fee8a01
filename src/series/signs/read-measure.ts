import { type DecimalMark, readNumber } from "../../units/read-quantity.js";
import { plainWords } from "./plain-words.js";
import type { SignMeasuring, SignUnit } from "./sign-kind.js";
import { plainLine } from "./tokens.js";

/** What a line that should be a number says. */
export type MeasureReading =
  | {
      readonly is: "measured";
      readonly low: number;
      readonly high: number;
      readonly unit: string | null;
      readonly asks: Asks | null;
    }
  | { readonly is: "not looked" }
  | { readonly is: "unclear" };

/** Why a number is asked about. */
export interface Asks {
  readonly code:
    | "sign-unit-missing"
    | "sign-unit-doubted"
    | "sign-two-readings"
    | "sign-number-in-doubt"
    | "sign-no-number";
  /** The unit that fits better, where one does. */
  readonly unit: string | null;
}

export interface MeasureHints {
  readonly decimal: DecimalMark;
  /** Unit of the row's own column, as written; null where blank. */
  readonly column: string | null;
  /** Unit that study.json gives for bare numbers of this kind. */
  readonly study: string | null;
}

/**
 * Reads a number with what is written around it: its unit in the cell ("34.9C"), in
 * the column of units, or none; a bound ("<35"); two numbers (both are possible).
 * A value that fits another unit better than the one it would be taken in keeps both
 * meanings and is asked about.
 */
export function readMeasure(line: string, m: SignMeasuring, hints: MeasureHints): MeasureReading {
  const text = plainLine(line);
  if (text === "" || isOneOf(text, plainWords.notLooked) || isOneOf(text, plainWords.none))
    return { is: "not looked" };
  const numbers = numbersIn(text, m, hints.decimal);
  if (numbers.length === 0) {
    const asks: Asks = { code: "sign-no-number", unit: null };
    const rest = text.replace(/[?!.]/g, "").trim();
    if (saysAny(rest, m.low) && !denies(rest))
      return { is: "measured", low: m.possible[0], high: m.usual[0], unit: m.own, asks };
    if (saysAny(rest, m.high) && !denies(rest))
      return { is: "measured", low: m.usual[1], high: m.possible[1], unit: m.own, asks };
    return looksNotLooked(text) ? { is: "not looked" } : { is: "unclear" };
  }
  const column = unitOf(hints.column, m);
  const study = unitOf(hints.study, m);
  // A unit nobody knows is no unit: what stands there cannot be read.
  if (column === undefined && numbers.some((n) => n.unit === null)) return { is: "unclear" };
  let asks: Asks | null = null;
  const ask = (code: Asks["code"], unit: string | null = null) => {
    asks ??= { code, unit };
  };
  const readings = numbers.map((n) => meanings(n, m, column ?? null, study ?? null, ask));
  if (readings.some((r) => r.length === 0)) return { is: "unclear" };
  if (/\?/.test(text) || plainWords.doubts.some((d) => hasWord(text, d)))
    ask("sign-number-in-doubt");
  const all = readings.flat();
  let low = Math.min(...all.map((r) => r.low));
  let high = Math.max(...all.map((r) => r.high));
  // The same value in two units is one value.
  if (numbers.length > 1) {
    const first = readings[0]![0]!;
    if (
      high - low <= 0.02 * Math.abs(high) + 1e-9 &&
      asks === null &&
      numbers.some((n) => n.unit !== numbers[0]!.unit)
    ) {
      low = first.low;
      high = first.high;
    } else if (high > low) ask("sign-two-readings");
  }
  return { is: "measured", low, high, unit: all[0]!.unit, asks };
}

interface Written {
  readonly value: number;
  readonly unit: SignUnit | null;
  readonly bound: "below" | "above" | null;
}

interface Meaning {
  readonly low: number;
  readonly high: number;
  readonly unit: string | null;
}

function meanings(
  n: Written,
  m: SignMeasuring,
  column: SignUnit | null,
  study: SignUnit | null,
  ask: (code: Asks["code"], unit?: string | null) => void,
): Meaning[] {
  const own = (unit: SignUnit) => (n.value + (unit.shift ?? 0)) * unit.scale;
  const within = (unit: SignUnit, [low, high]: readonly [number, number]) => {
    const v = own(unit);
    return v >= low - 1e-9 && v <= high + 1e-9;
  };
  const meaning = (unit: SignUnit): Meaning => {
    const v = tidy(own(unit));
    return {
      low: n.bound === "below" ? m.possible[0] : v,
      high: n.bound === "above" ? m.possible[1] : v,
      unit: m.own,
    };
  };
  const possible = m.units.filter((unit) => within(unit, m.possible));
  if (n.unit !== null && column !== null && n.unit !== column) {
    ask("sign-unit-doubted", n.unit.name);
    return [n.unit, column].filter((unit) => possible.includes(unit)).map(meaning);
  }
  const told = n.unit ?? column;
  const taken = told ?? study ?? m.units[0]!;
  const canBe = possible.includes(taken);
  const credible = told === null ? m.usual : (m.credible ?? m.possible);
  if (canBe && (n.unit !== null || within(taken, credible))) return [meaning(taken)];
  const others = possible.filter((unit) => unit !== taken && unit.onlyWritten !== true);
  const better = others.filter((unit) => within(unit, m.usual));
  // Where no unit fits well and none was told, every one that is possible counts.
  const rivals = better.length > 0 || told !== null || study !== null ? better : others;
  if (rivals.length > 0)
    ask(told === null ? "sign-unit-missing" : "sign-unit-doubted", rivals[0]!.name);
  return [...(canBe ? [taken] : []), ...rivals].map(meaning);
}

const numeral = String.raw`[+-]?\d[\d.,' \u00a0\u202f]*\d|[+-]?\d`;
const boundWords = "<|>|≤|≥|below|under|less than|above|over|more than|at least|at most";

/** Every number of a line with the unit beside it; clock times and dates are none. */
function numbersIn(text: string, m: SignMeasuring, decimal: DecimalMark): Written[] {
  const plain = text
    .replace(/(?<=\d)\s*-\s*(?=\d)/g, " ; ")
    .replace(/\b\d{1,2}:\d{2}(:\d{2})?\b/g, " ")
    .replace(/\b\d+\s*(h|hr|hrs|hours?|min|mins|minutes?)\b/g, " ");
  const found: Written[] = [];
  const spellings = m.units
    .flatMap((unit) => unit.spellings.map((says) => ({ says: plainLine(says), unit })))
    .sort((a, b) => b.says.length - a.says.length);
  /** Where the unit of the last number ends. */
  let read = 0;
  for (const match of plain.matchAll(new RegExp(`(?:(${boundWords})\\s*)?(${numeral})`, "g"))) {
    const digits = match[2]!;
    const at = match.index + match[0].length;
    const number = readNumber(digits, decimal);
    const values =
      number.kind === "number"
        ? [number.value]
        : number.kind === "ambiguous"
          ? number.readings
          : [];
    if (values.length === 0) return [];
    // "2/5": the number behind the stroke belongs to the scale that was read as the unit.
    if (at <= read) continue;
    const behind = plain.slice(at).trimStart();
    const before = plain.slice(0, match.index).trimEnd();
    const own = spellings.find(
      (s) => behind.startsWith(s.says) && !/^[\p{L}]/u.test(behind.slice(s.says.length)),
    );
    if (own !== undefined) read = plain.length - behind.length + own.says.length;
    const unit =
      own?.unit ??
      spellings.find((s) => s.says.length > 1 && before.endsWith(s.says))?.unit ??
      null;
    const bound =
      match[1] === undefined
        ? null
        : /^(<|≤|below|under|less|at most)/.test(match[1])
          ? "below"
          : "above";
    const fits = values.filter((v) => m.units.some((u) => isPossible(v, u, m)));
    for (const value of fits.length > 0 ? fits : values.slice(0, 1))
      found.push({ value, unit, bound });
  }
  return found;
}

function isPossible(value: number, unit: SignUnit, m: SignMeasuring): boolean {
  const own = (value + (unit.shift ?? 0)) * unit.scale;
  return own >= m.possible[0] && own <= m.possible[1];
}

/** The unit a spelling means; null for a blank one, undefined for one that is not known. */
function unitOf(written: string | null, m: SignMeasuring): SignUnit | null | undefined {
  const text = written === null ? "" : plainLine(written).replace(/\.$/, "");
  if (text === "" || text === "-") return null;
  return m.units.find((unit) =>
    [unit.name, ...unit.spellings].some((says) => plainLine(says) === text),
  );
}

const isOneOf = (text: string, words: readonly string[]) =>
  words.includes(text.replace(/[.!]$/, ""));
const hasWord = (text: string, word: string) =>
  /^\p{L}/u.test(word) && new RegExp(`(?<!\\p{L})${word}(?!\\p{L})`, "u").test(text);
const saysAny = (text: string, words: readonly string[]) =>
  words.some((word) => hasWord(text, word));
const denies = (text: string) => plainWords.denials.some((word) => hasWord(text, word));
const looksNotLooked = (text: string) =>
  plainWords.notLooked.some((word) => text.startsWith(word) && word.length > 3);
const tidy = (value: number) => Number(value.toPrecision(12));
