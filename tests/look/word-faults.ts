import { unnamedIntake } from "./intake-words.js";

/**
 * What no page may say, by the rules of words and numbers: each with the name
 * of the fault. What stands between quotation marks repeats a file and is not
 * read.
 */
const faults: readonly (readonly [string, RegExp])[] = [
  ["a date as files keep it", /\b\d{4}-\d{2}-\d{2}\b|\b\d{2}-\d{2} \d{2}:\d{2}\b/],
  // Words that end in s and are no plural.
  [
    "a plural of one",
    /(?<![\d.,\u202f−–-])\b1 (?!(?:less|loss|was|is|has|this|as|its|across|mass|bus|gas|dress|class|press|guess|process|access|pass|miss|kiss|plus|minus|thus|versus|always|perhaps|sometimes|times)\b)[a-z]+s\b(?! of \d)/,
  ],
  ["an exponent", /\d\.\d+e[+−-]?\d|\de[+−-]\d/],
  [
    "a code",
    /\b(?:relative-offset|relative-gradient|running-off|no-progress|max-iterations|degC|degF|serial: (?:true|false))\b|\b[a-z]{2,}[A-Z][A-Za-z]+\b/,
  ],
  ["a broken value", /\b(?:undefined|NaN|null|Infinity|\[object)\b/],
  [
    "a second style of interval",
    /\(9\d % [−\d]|\(SE\b|\bSE \d|\d ± \d|\[[−\d.]+, ?[−\d.]+\]|\d kg\b(?!\^)/,
  ],
  ["a hyphen for a minus", /(?<![\p{L}\p{N}\u2010-])-\d/u],
  ["a space before a stop", / [,;.](?: |$)/],
];

export function wordFaults(text: string): string[] {
  const read = text.replace(/“[^”]*”|"[^"]*"/g, "“”");
  const unnamed = unnamedIntake(text);
  const ofIntake = unnamed === null ? [] : [`neither eaten nor kept: ${unnamed}`];
  const others = faults.flatMap(([name, pattern]) => {
    const found = pattern.exec(read);
    if (found === null) return [];
    const from = Math.max(0, found.index - 60);
    return [`${name}: …${read.slice(from, found.index + found[0].length + 40)}…`];
  });
  return [...ofIntake, ...others];
}
