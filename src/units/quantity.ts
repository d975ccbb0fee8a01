import { UsageError } from "../core/usage-error.js";

/** What a unit measures; only units of one dimension turn into each other. */
export type Dimension = "mass" | "volume" | "energy" | "temperature";

interface Unit {
  readonly dimension: Dimension;
  /** How many base units one is (g, mL, kcal, degC). */
  readonly scale: number;
  readonly shift?: number;
}

/** Kilojoules in a (thermochemical) kilocalorie, exact by definition. */
export const kJPerKcal = 4.184;

/**
 * The units that are understood. Exact by definition: the avoirdupois pound is
 * 453.59237 g and an ounce its sixteenth (international yard and pound
 * agreement, 1959); the thermochemical calorie is 4.184 J; degF = degC x 9/5 + 32.
 */
export const units = {
  g: { dimension: "mass", scale: 1 },
  mg: { dimension: "mass", scale: 0.001 },
  kg: { dimension: "mass", scale: 1000 },
  lb: { dimension: "mass", scale: 453.59237 },
  oz: { dimension: "mass", scale: 28.349523125 },
  mL: { dimension: "volume", scale: 1 },
  L: { dimension: "volume", scale: 1000 },
  kcal: { dimension: "energy", scale: 1 },
  kJ: { dimension: "energy", scale: 1 / kJPerKcal },
  MJ: { dimension: "energy", scale: 1000 / kJPerKcal },
  degC: { dimension: "temperature", scale: 1 },
  degF: { dimension: "temperature", scale: 5 / 9, shift: -32 },
} as const satisfies Readonly<Record<string, Unit>>;

export type UnitName = keyof typeof units;

/**
 * Turns a value from one unit into another of the same dimension.
 *
 * @throws UsageError when the dimensions differ (grams are no millilitres
 *   without a density).
 * @example convert(1.85, "kg", "g") // 1850
 * @example convert(101.3, "degF", "degC") // 38.5
 */
export function convert(value: number, from: UnitName, to: UnitName): number {
  if (from === to) return value;
  const a: Unit = units[from];
  const b: Unit = units[to];
  if (a.dimension !== b.dimension) {
    throw new UsageError({
      needed: `a unit of ${b.dimension}`,
      came: `"${from}" came, a unit of ${a.dimension}`,
      where: `conversion from ${from} to ${to}`,
      todo: "Choose units that measure the same thing; mass and volume need a density.",
    });
  }
  return rounded(((value + (a.shift ?? 0)) * a.scale) / b.scale - (b.shift ?? 0));
}

/** The dimension of a unit. @example dimensionOf("lb") // "mass" */
export function dimensionOf(unit: UnitName): Dimension {
  return units[unit].dimension;
}

/** Takes off the last binary noise: 1.1 kg are 1100 g, not 1100.0000000000002. */
function rounded(value: number): number {
  return value === 0 || !Number.isFinite(value) ? value : Number(value.toPrecision(15));
}

const spellings: Readonly<Record<string, UnitName>> = {
  g: "g",
  gr: "g",
  gm: "g",
  gms: "g",
  gram: "g",
  grams: "g",
  gramme: "g",
  grammes: "g",
  mg: "mg",
  kg: "kg",
  kgs: "kg",
  kilo: "kg",
  kilos: "kg",
  kilogram: "kg",
  kilograms: "kg",
  lb: "lb",
  lbs: "lb",
  "#": "lb",
  pound: "lb",
  pounds: "lb",
  oz: "oz",
  ounce: "oz",
  ounces: "oz",
  ml: "mL",
  cc: "mL",
  milliliter: "mL",
  millilitre: "mL",
  milliliters: "mL",
  millilitres: "mL",
  l: "L",
  liter: "L",
  litre: "L",
  liters: "L",
  litres: "L",
  kcal: "kcal",
  kj: "kJ",
  mj: "MJ",
  c: "degC",
  degc: "degC",
  "°c": "degC",
  "º c": "degC",
  celsius: "degC",
  f: "degF",
  degf: "degF",
  "°f": "degF",
  fahrenheit: "degF",
};

/** Every unit with the ways of writing it, for the data dictionary. */
export function unitSpellings(): {
  readonly unit: UnitName;
  readonly dimension: Dimension;
  readonly spellings: readonly string[];
}[] {
  return (Object.keys(units) as UnitName[]).map((unit) => ({
    unit,
    dimension: units[unit].dimension,
    spellings: Object.keys(spellings).filter((written) => spellings[written] === unit),
  }));
}

/** The unit a spelling means, or null. @example unitNamed("Lbs.") // "lb" */
export function unitNamed(text: string): UnitName | null {
  const key = text.trim().toLowerCase().replace(/\.$/, "");
  return Object.hasOwn(spellings, key) ? spellings[key]! : null;
}
