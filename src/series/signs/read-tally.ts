import { convert, dimensionOf, unitNamed } from "../../units/quantity.js";
import type { Item } from "./item.js";
import { countWords } from "./plain-words.js";
import type { Token } from "./tokens.js";

const times = new Set([
  "x",
  "×",
  "time",
  "times",
  "episode",
  "episodes",
  "event",
  "events",
  "bout",
  "bouts",
  "count",
  "counts",
  "mal",
  "fois",
]);
const spans = new Set(
  "h hr hrs hour hours min mins minute minutes am pm s sec secs second seconds d day days o".split(
    " ",
  ),
);

/**
 * Reads how often or how much from a place in a line: "2x", "x2", "three times",
 * "1-2 episodes" (the larger), "5 g", "10 ml". Clock times and spans of time ("at
 * 06:10", "12 h") are passed over. Null where no such thing begins here.
 */
export function readTally(
  tokens: readonly Token[],
  from: number,
): { readonly items: readonly Item[]; readonly length: number } | null {
  const first = tokens[from]!;
  const after = (k: number) => tokens[from + k]?.text;
  if ((first.text === "x" || first.text === "×") && tokens[from + 1]?.is === "number")
    return tally(numberOf(after(1)!), 2);
  if (first.is === "word" && Object.hasOwn(countWords, first.text)) {
    const count = countWords[first.text]!;
    if (times.has(after(1) ?? "")) return tally(count, 2);
    if (/^(once|twice|thrice|several|multiple|many|repeated|repeatedly|couple)$/.test(first.text))
      return tally(count, 1);
    return null;
  }
  if (first.is !== "number") return null;
  if (/:/.test(first.text) || /^0\d{3}$/.test(first.text)) return { items: [], length: 1 };
  let value = numberOf(first.text);
  let length = 1;
  // "1-2 times" counts as the larger.
  if ((after(1) === "-" || after(1) === "to") && tokens[from + 2]?.is === "number") {
    value = Math.max(value, numberOf(after(2)!));
    length = 3;
  }
  const unit = after(length) ?? "";
  if (times.has(unit)) return tally(value, length + 1);
  if (unit === "%") return { items: [{ is: "percent", value }], length: length + 1 };
  if (spans.has(unit)) return { items: [], length: length + 1 };
  const named = unitNamed(unit);
  const dimension = named === null ? null : dimensionOf(named);
  if (named !== null && (dimension === "mass" || dimension === "volume")) {
    const own = dimension === "mass" ? "g" : "mL";
    const amount = { value: convert(value, named, own), unit: own } as const;
    return { items: [{ is: "tally", count: null, amount }], length: length + 1 };
  }
  return { items: [{ is: "bare number", value }], length };
}

function tally(count: number, length: number) {
  return { items: [{ is: "tally", count, amount: null } as const], length };
}

const numberOf = (text: string) => Number(text.replace(",", "."));
