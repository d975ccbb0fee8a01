import { type Notice, notice } from "../core/notice.js";
import { convert, dimensionOf, type UnitName, unitNamed, units } from "../units/quantity.js";
import type { OverriddenEntry, SpeciesProfile } from "./species-profile.js";

export interface OverrideOutcome {
  readonly profile: SpeciesProfile;
  readonly overridden: readonly OverriddenEntry[];
  readonly notices: readonly Notice[];
}

type Shape = "value" | "range" | "text";

/** The single entries, and the unit of each (also where the profile has none). */
const single: Readonly<Record<string, { shape: Shape; unit: string }>> = {
  scientificName: { shape: "text", unit: "" },
  birthMass: { shape: "range", unit: "g" },
  lowBirthMass: { shape: "value", unit: "g" },
  adultMass: { shape: "range", unit: "g" },
  bodyTemperature: { shape: "range", unit: "degC" },
  feedLimit: { shape: "value", unit: "% of body mass" },
  solidsStart: { shape: "range", unit: "d" },
  weaning: { shape: "range", unit: "d" },
  postWeaningFast: { shape: "range", unit: "d" },
  formulaUseBy: { shape: "value", unit: "h" },
  veryYoung: { shape: "value", unit: "d" },
};

/** The entries that are lists of age bands: which ranges each band holds, with their units. */
const banded: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  plausibleMass: { unusual: "g", impossible: "g" },
  feedingRhythm: { everyH: "h" },
  intake: { share: "% of body mass/d" },
  energyDemand: { timesResting: "x 70 W^0.75" },
  expectedGain: { gain: "%/d" },
};

const cannotBeAbsent = new Set(["formulaUseBy", "veryYoung"]);

/** No warm-blooded animal is so warm in degrees Celsius: such a bare number is in Fahrenheit, and is asked about. */
const tooWarmC = 50;

/** "body_temperature" and "from_d" are read as bodyTemperature and fromD: study.json is written so. */
const camel = (key: string) => key.replace(/_([a-z])/g, (_, c: string) => c.toUpperCase());

/**
 * Merges the user's entries into a profile. An entry replaces the profile's
 * entry of that name as a whole; lists of age bands are replaced as lists, so a
 * band is never half the user's and half the profile's.
 */
export function overrideProfile(base: SpeciesProfile, entries: unknown): OverrideOutcome {
  const species = base.species;
  if (!isRecord(entries)) {
    const came = describe(entries);
    return {
      profile: base,
      overridden: [],
      notices: [notice("species-override-not-entries", "problem", { species, came })],
    };
  }
  const merged: Record<string, unknown> = { ...base };
  const overridden: OverriddenEntry[] = [];
  const notices: Notice[] = [];
  for (const [key, written] of Object.entries(entries)) {
    const entry = camel(key);
    const reading = readEntry(entry, written);
    if (reading.value === undefined) {
      const came = describe(written);
      // Named as it is written: that is what is looked for in the file.
      notices.push(notice(reading.code, "problem", { species, entry: key, came }));
      continue;
    }
    overridden.push({
      entry,
      before: JSON.stringify(merged[entry] ?? null),
      after: JSON.stringify(reading.value),
    });
    merged[entry] = reading.value;
  }
  if (overridden.length > 0) {
    notices.push(
      notice("species-overridden", "info", { species, entries: overridden.map((o) => o.entry) }),
    );
  }
  return { profile: merged as unknown as SpeciesProfile, overridden, notices };
}

function readEntry(
  entry: string,
  written: unknown,
): {
  readonly value: unknown;
  readonly code:
    | "species-override-unreadable"
    | "species-override-unknown-entry"
    | "species-override-fahrenheit";
} {
  const code =
    entry === "bodyTemperature" && looksFahrenheit(written)
      ? "species-override-fahrenheit"
      : "species-override-unreadable";
  const one = Object.hasOwn(single, entry) ? single[entry] : undefined;
  if (one !== undefined) {
    if (written === null && !cannotBeAbsent.has(entry)) return { value: null, code };
    if (one.shape === "text")
      return { value: typeof written === "string" ? written : undefined, code };
    return {
      value: one.shape === "range" ? readRange(written, one.unit) : readValue(written, one.unit),
      code,
    };
  }
  const bands = Object.hasOwn(banded, entry) ? banded[entry] : undefined;
  if (bands === undefined) return { value: undefined, code: "species-override-unknown-entry" };
  if (!Array.isArray(written)) return { value: undefined, code };
  const list = written.map((band) => readBand(entry, band, bands));
  if (list.some((b) => b === undefined)) return { value: undefined, code };
  const ordered = list.every((b, i) => {
    const before = list[i - 1];
    return (
      before === undefined ||
      (before.toD !== null && b!.fromD >= before.toD) ||
      entry === "expectedGain"
    );
  });
  return { value: ordered ? list : undefined, code };
}

function readBand(entry: string, row: unknown, ranges: Readonly<Record<string, string>>) {
  if (!isRecord(row)) return undefined;
  const band = Object.fromEntries(Object.entries(row).map(([key, value]) => [camel(key), value]));
  const fromD = band["fromD"] ?? 0;
  const toD = band["toD"] ?? null;
  if (!isNumber(fromD) || !(toD === null || (isNumber(toD) && toD > fromD))) return undefined;
  const out: Record<string, unknown> & { fromD: number; toD: number | null } = { fromD, toD };
  for (const [name, unit] of Object.entries(ranges)) {
    const range = readRange(band[name], unit);
    if (range === undefined) return undefined;
    out[name] = range;
  }
  if (entry === "feedingRhythm") {
    const hours = band["betweenHours"] ?? null;
    if (hours !== null && !isPair(hours)) return undefined;
    out["betweenHours"] = hours;
  }
  if (entry === "expectedGain") {
    const setting = band["setting"] ?? "hand-reared";
    if (setting !== "hand-reared" && setting !== "wild") return undefined;
    out["setting"] = setting;
  }
  return out;
}

function readRange(written: unknown, unit: string) {
  if (isNumber(written)) return entered({ range: [written, written] }, {}, unit);
  if (isPair(written)) return entered({ range: written }, {}, unit);
  if (!isRecord(written)) return undefined;
  const range = written["range"] ?? written["value"];
  if (isNumber(range)) return entered({ range: [range, range] }, written, unit);
  return isPair(range) ? entered({ range }, written, unit) : undefined;
}

function readValue(written: unknown, unit: string) {
  if (isNumber(written)) return entered({ value: written }, {}, unit);
  if (!isRecord(written) || !isNumber(written["value"])) return undefined;
  return entered({ value: written["value"] }, written, unit);
}

/**
 * Numbers in another unit of the same kind (kg, lb, degF) are turned into the
 * profile's own; any other unit is refused: the number would be read wrongly.
 */
function entered(
  numbers: { readonly value?: number; readonly range?: readonly [number, number] },
  written: Readonly<Record<string, unknown>>,
  unit: string,
) {
  const given = written["unit"] ?? unit;
  const source =
    typeof written["source"] === "string" ? written["source"] : "entered in study.json";
  const isGain = unit === "%/d" && given === "g/d";
  if (given === unit || isGain) {
    if (unit === "degC" && Math.max(numbers.value ?? 0, ...(numbers.range ?? [])) > tooWarmC)
      return undefined;
    return { ...numbers, unit: given, source, sure: "entered" };
  }
  const from = typeof given === "string" ? unitNamed(given) : null;
  if (from === null || !isUnit(unit) || dimensionOf(from) !== dimensionOf(unit)) return undefined;
  const turn = (x: number) => Number(convert(x, from, unit).toPrecision(6));
  return {
    ...(numbers.value === undefined ? {} : { value: turn(numbers.value) }),
    ...(numbers.range === undefined
      ? {}
      : { range: [turn(numbers.range[0]), turn(numbers.range[1])] as const }),
    unit,
    source: `${source} (written in ${from})`,
    sure: "entered",
  };
}

const isUnit = (unit: string): unit is UnitName => Object.hasOwn(units, unit);

/** A range without a unit that can only be in degrees Fahrenheit. */
function looksFahrenheit(written: unknown): boolean {
  const range = isRecord(written) ? (written["range"] ?? written["value"]) : written;
  if (isRecord(written) && written["unit"] !== undefined) return false;
  const numbers = Array.isArray(range) ? range : [range];
  return numbers.length > 0 && numbers.every((x) => isNumber(x) && x > tooWarmC && x < 120);
}

function isRecord(x: unknown): x is Record<string, unknown> {
  return typeof x === "object" && x !== null && !Array.isArray(x);
}

function isNumber(x: unknown): x is number {
  return typeof x === "number" && Number.isFinite(x);
}

function isPair(x: unknown): x is [number, number] {
  return Array.isArray(x) && x.length === 2 && isNumber(x[0]) && isNumber(x[1]) && x[0] <= x[1];
}

function describe(x: unknown): string {
  return JSON.stringify(x) ?? String(x);
}
