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
  [
    "a plural of one",
    /(?<![\d.,\u202f−–-])\b1 (?:weighed|judged|recorded|settled|more|other|usable|feeding|complete|planned) [a-z]+s\b(?! of \d)/,
  ],
  // An interval in brackets may be so narrow that it reads as one value.
  ["a range of one value", /(?<![\d.,\u202f:(−–-])(\d[\d.\u202f]*) to \1(?![\d.\u202f:])/],
  ["a time in milliseconds", /(?<!\d)1(?:\u202f?\d{3}){4}(?!\d)/],
  ["an exponent", /\d\.\d+e[+−-]?\d|\de[+−-]\d/],
  [
    "a code",
    /\b(?:relative-offset|relative-gradient|running-off|no-progress|max-iterations|degC|degF|serial: (?:true|false))\b|\b[a-z]{2,}[A-Z][A-Za-z]+\b/,
  ],
  ["a code", /\((?:not-converged|too-few-points)\)|\b(?:low|high)(?:80|95)\b|\d count\b/],
  [
    "a code",
    /\b(?:gompertz|schnute|brody|weibull|richards|double-logistic|broken-stick|linear-plateau|logistic-from-floor)\b/,
  ],
  ["a unit that is none", /\d\.\d+ 1(?=[ ,.;)]|$)/],
  ["finer than anything is known", /\d\.\d{6,}/],
  ["a broken value", /\b(?:undefined|NaN|null|Infinity|\[object)\b|\$\{/],
  [
    "a second style of interval",
    /\(9\d % [−\d]|\(SE\b|\bSE \d|\d ± \d|\[[−\d.]+, ?[−\d.]+\]|\d kg\b(?!\^)/,
  ],
  // Computed figures: a gain is never finer than 1 g/d and 0.1 %/d.
  ["a figure finer than its unit", /\d\.\d+ g\/d\b|\d\.\d{2,} %\/d(?!\w)/],
  ["a hyphen for a minus", /(?<![\p{L}\p{N}\u2010-])-\d/u],
  ["a space before a stop", / [,;.](?: |$)/],
];

export function wordFaults(text: string): string[] {
  const read = text.replace(/“[^”]*”|"[^"]*"/g, "“”").replaceAll("\u00a0", " ");
  const unnamed = unnamedIntake(text.replaceAll("\u00a0", " "));
  const ofIntake = unnamed === null ? [] : [`neither eaten nor kept: ${unnamed}`];
  const others = faults.flatMap(([name, pattern]) => {
    const found = pattern.exec(read);
    if (found === null) return [];
    const from = Math.max(0, found.index - 60);
    return [`${name}: …${read.slice(from, found.index + found[0].length + 40)}…`];
  });
  return [...ofIntake, ...others, ...roundingFaults(read), ...verdictFaults(read)];
}

const number = "[−-]?\\d[\\d\u202f]*(?:\\.\\d+)?";
/** An estimate with its interval: "17 g/d (13 to 22)", with the level before the interval where it is not 95 %. */
const estimate = new RegExp(
  `(?<![\\w.,−-])(${number})( [^\\s()\\d]{1,8})? \\((?:\\d+ %: |\\d+ % interval |difference )?(${number}) to (${number})(?= |\\)|,|;)`,
  "g",
);

/**
 * Two significant digits of the interval's half width decide the rounding of an
 * estimate and of both ends: none is finer, and none has other decimals.
 */
function roundingFaults(text: string): string[] {
  return [...text.matchAll(estimate)].flatMap((found) => {
    const three = [found[1]!, found[3]!, found[4]!];
    const [value, lower, upper] = three.map((each) =>
      Number(each.replaceAll("\u202f", "").replace("−", "-")),
    ) as [number, number, number];
    // Counts and days in front of a range of something else are no estimates of it.
    if (value < lower || value > upper) return [];
    const decimals = three.map((each) => each.split(".")[1]?.length ?? 0);
    // The half width was rounded as well: by up to a step of the last digit it may have been less.
    const half = (upper - lower) / 2 - 10 ** -decimals[0]!;
    const most = half > 0 ? 1 - Math.floor(Math.log10(half) + 1e-9) : Number.POSITIVE_INFINITY;
    const alike = new Set(decimals).size === 1;
    const tens = 10 ** Math.max(0, -most);
    const round = tens === 1 || [value, lower, upper].every((each) => each % tens === 0);
    return alike && decimals[0]! <= Math.max(0, most) && round
      ? []
      : [`a rounding that its interval does not bear: ${found[0]}`];
  });
}

/** What decides where an interval and a verdict part: a correction, another margin, arrivals. */
const decidedBy =
  /corrected|correction|Holm|cannot be separated|still to come|to come through|margin|in the fast/i;
const interval = new RegExp(`\\((?:\\d+ % interval )?(${number}) to (${number})(?= |\\)|,|;)`, "g");
const numeric = (text: string) => Number(text.replaceAll("\u202f", "").replace("−", "-"));

/**
 * "Not shown" beside an interval that leaves out zero says what decides it; a figure that is
 * refused is not printed in the same breath.
 */
function verdictFaults(text: string): string[] {
  const sentences = text.split(/(?<=[a-z0-9)]\.) (?=\p{Lu})/u);
  const unsaid = sentences.flatMap((sentence) => {
    if (!/no difference|not shown|not a difference/i.test(sentence)) return [];
    if (decidedBy.test(text)) return [];
    const apart = [...sentence.matchAll(interval)].some(
      ([, low, high]) => numeric(low!) > 0 || numeric(high!) < 0,
    );
    return apart ? [`not shown beside an interval without zero: ${sentence}`] : [];
  });
  const refused = sentences.flatMap((sentence) =>
    /cannot be told|not computed|not identified|is refused|cannot be forecast/i.test(sentence) &&
    new RegExp(`${number}(?: \\S+)? \\(${number} to ${number}\\)`).test(sentence)
      ? [`a refused figure is printed: ${sentence}`]
      : [],
  );
  return [...unsaid, ...refused];
}
