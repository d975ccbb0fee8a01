import type {
  AgeBand,
  SourcedRange,
  SourcedValue,
  SpeciesProfile,
} from "../../species/species-profile.js";
import { unitWord } from "../../units/format-measured.js";

/** One number of a profile as a row to show (a type alias, so that it passes as a plain row). */
export type ProfileRow = {
  readonly entry: string;
  /** "0 to 30 d", "from 120 d", or blank where the age does not matter. */
  readonly age: string;
  readonly low: number | null;
  readonly high: number | null;
  readonly unit: string;
  readonly source: string;
  readonly howSure: string;
};

const words: Readonly<Record<string, string>> = {
  birthMass: "birth mass",
  lowBirthMass: "low birth mass",
  adultMass: "adult mass",
  bodyTemperature: "body temperature",
  plausibleMass: "plausible mass",
  feedingRhythm: "feeding interval",
  intake: "eaten a day",
  feedLimit: "most that one feed may be",
  energyDemand: "energy demand",
  expectedGain: "expected gain",
  solidsStart: "solids start",
  weaning: "weaning",
  postWeaningFast: "fast after weaning",
  formulaUseBy: "formula is used within",
  veryYoung: "very young below",
};

/**
 * A profile as rows: every number with its unit, source and how sure it is, the
 * user's own entries included; what no source gives stands there as not known.
 *
 * @example profileRows(profileOf("sea otter"))[0] // { entry: "birth mass", low: 1000, high: 2300, unit: "g", ... }
 */
export function profileRows(profile: SpeciesProfile): readonly ProfileRow[] {
  return Object.entries(words).flatMap(([name, entry]): ProfileRow[] => {
    const value = profile[name as keyof SpeciesProfile];
    if (value === null || (Array.isArray(value) && value.length === 0)) {
      const missing = { low: null, high: null, unit: "", source: "", howSure: "not known" };
      return [{ entry, age: "", ...missing }];
    }
    if (!Array.isArray(value)) return [rowOf(entry, "", value as SourcedValue | SourcedRange)];
    return (value as readonly (AgeBand & Readonly<Record<string, unknown>>)[]).flatMap((band) =>
      Object.entries(band).flatMap(([part, inner]) =>
        isSourced(inner)
          ? [rowOf(entry + (suffix[part] ?? ""), ageOf(band), inner)]
          : part === "betweenHours" && inner !== null
            ? [hoursRow(ageOf(band), inner as readonly [number, number])]
            : [],
      ),
    );
  });
}

const suffix: Readonly<Record<string, string>> = {
  unusual: ", else unusual",
  impossible: ", else impossible",
};

function rowOf(entry: string, age: string, x: SourcedValue | SourcedRange): ProfileRow {
  const [low, high] = "range" in x ? x.range : [x.value, x.value];
  return { entry, age, low, high, unit: unitWord(x.unit), source: x.source, howSure: x.sure };
}

function hoursRow(age: string, hours: readonly [number, number]): ProfileRow {
  const [low, high] = hours;
  return {
    entry: "fed between",
    age,
    low,
    high,
    unit: "o'clock",
    source: "as above",
    howSure: "as above",
  };
}

function ageOf(band: AgeBand): string {
  return band.toD === null ? `from ${band.fromD} d` : `${band.fromD} to ${band.toD} d`;
}

function isSourced(x: unknown): x is SourcedValue | SourcedRange {
  return typeof x === "object" && x !== null && "unit" in x && ("range" in x || "value" in x);
}
