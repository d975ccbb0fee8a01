import { glucose } from "./kinds/glucose.js";
import { temperature } from "./kinds/temperature.js";
import { readMeasure } from "./read-measure.js";
import type { MeasuredInWords } from "./sign.js";
import type { SignKind } from "./sign-kind.js";

/** What is measured of other things: water, air, milk, a pad. */
const ofThings =
  /(pool|water|bath|room|air|ambient|outside|indoor|incubator|kennel|pad|mat|heat|milk|formula|bottle|fridge|freezer|feed|surface)\s+(?:is|was|at)?\s*$/;
/** Words beside which a number that a body can have is its temperature: "both cold, 36.1 C". */
const alsoNamed: Readonly<Record<string, readonly string[]>> = {
  temperature: ["cold", "chilled", "hypothermic", "rectal", "fever", "febrile", "hot"],
};
const filler =
  "(?:[\\s,;]*(?:is|was|of|at|now|only|down to|up to|up|down|reading|read|rectal|[:=~]))*";

/**
 * Body temperature and glucose that somebody wrote into free words ("temp 95.1 F, gave
 * warm bottle"). Only what an animal can have is taken: a pool of 12 °C is no body.
 *
 * @example measuredInWords("temp 95.1 F, warmed", "point")[0] // { kind: "temperature", measure: { low: 35.06, high: 35.06, unit: "degC" } }
 */
export function measuredInWords(
  line: string,
  decimal: "point" | "comma",
): readonly MeasuredInWords[] {
  const text = line.toLowerCase().replace(/\s+/g, " ");
  return [temperature, glucose].flatMap((kind) => found(text, kind, decimal));
}

function found(text: string, kind: SignKind, decimal: "point" | "comma"): MeasuredInWords[] {
  const m = kind.measuring!;
  const units = m.units
    .flatMap((u) => u.spellings)
    .sort((a, b) => b.length - a.length)
    .map(escaped);
  const pattern = new RegExp(
    `(?<![\\p{L}\\d])(?:${[...kind.itself, ...(alsoNamed[kind.kind] ?? [])].map(escaped).join("|")})\\.?${filler}[\\s,;]*([<>]?\\s*\\d+(?:[.,]\\d+)?)\\s*((?:${units.join("|")})(?![\\p{L}\\d]))?`,
    "gu",
  );
  return [...text.matchAll(pattern)].flatMap((hit): MeasuredInWords[] => {
    if (ofThings.test(text.slice(0, hit.index))) return [];
    const read = readMeasure(`${hit[1]} ${hit[2] ?? ""}`.trim(), m, {
      decimal,
      column: null,
      study: null,
    });
    if (read.is !== "measured" || read.high < m.usual[0] || read.low > m.usual[1]) return [];
    return [
      {
        kind: kind.kind as MeasuredInWords["kind"],
        measure: { low: read.low, high: read.high, unit: read.unit },
      },
    ];
  });
}

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
