import type { Study, StudySettings, StudyTables } from "../../src/records/study.js";
import type { AnimalSeries, StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { type LooseOrder, planRow } from "../series/plan-row.js";

export const hour = 3_600_000;
export const day = 24 * hour;
/** 1 May 2025, 06:00 UTC: begin of a feeding day in these studies. */
export const start = Date.UTC(2025, 4, 1, 6);

export const settings: StudySettings = {
  title: "small study",
  species: ["sea otter"],
  zone: "UTC",
  feedingDayStartHour: 6,
  blankTareIsZero: true,
  blankRefusalIsNone: false,
  dateStyle: "year-month-day",
  decimal: "point",
  scaleErrorG: {},
  speciesOverrides: {},
};

const origin = { file: "small", line: 2 };
type Loose = { readonly at: number; readonly [key: string]: unknown };

export interface SmallStudy {
  readonly species?: string;
  readonly animal?: Record<string, unknown>;
  /** More animals than the one: one record each, in place of `animal`. */
  readonly animals?: readonly Record<string, unknown>[];
  /** [instant, grams]: dry, before a meal. */
  readonly weighings?: readonly (readonly [number, number])[];
  /** The same as rows, with their animals. */
  readonly weighingRows?: readonly { at: number; massG: number; animalId: string }[];
  readonly feeds?: readonly Loose[];
  readonly observations?: readonly (Loose & { readonly kind: string })[];
  readonly plans?: readonly LooseOrder[];
  readonly diets?: readonly Record<string, unknown>[];
  readonly batches?: readonly Record<string, unknown>[];
  readonly housing?: readonly Record<string, unknown>[];
  readonly settings?: Partial<StudySettings>;
}

export const formula = {
  dietId: "formula",
  kind: "formula",
  waterPct: 80,
  proteinPct: 8,
  fatPct: 8,
  carbohydratePct: 3,
  fibrePct: 0,
  ashPct: 1,
  energyKcalPerG: 1.16,
  densityGPerMl: 1.03,
};

export const clam = {
  dietId: "clam",
  kind: "solid",
  waterPct: 79,
  proteinPct: 14.7,
  fatPct: 1,
  carbohydratePct: 3.6,
  fibrePct: 0,
  ashPct: 1.7,
  energyKcalPerG: 0.82,
};

/** One animal's series from a few rows; what is not given is blank. */
export function smallSeries(parts: SmallStudy): AnimalSeries {
  return smallStudySeries(parts).animals[0]!;
}

export function smallStudySeries(parts: SmallStudy): StudySeries {
  const all = { ...settings, ...parts.settings };
  const tables: Record<keyof StudyTables, readonly unknown[]> = {
    animals: (parts.animals ?? [parts.animal ?? {}]).map((animal) => ({
      animalId: "P1",
      name: "Tarn",
      species: parts.species ?? "sea otter",
      sex: "female",
      birthDateEarliest: "2025-04-21",
      birthDateLatest: "2025-04-21",
      birthDateBasis: "observed",
      admittedAt: start,
      season: "2025",
      outcome: "in care",
      outcomeReason: null,
      outcomeDate: null,
      notes: null,
      origin,
      ...animal,
    })),
    weighings: (
      parts.weighingRows ??
      (parts.weighings ?? []).map(([at, massG]) => ({ at, massG, animalId: "P1" }))
    ).map((w) => ({
      ...w,
      tareG: 0,
      scaleId: "s1",
      method: "bucket",
      coat: "dry",
      meal: "before",
      notes: null,
      origin,
    })),
    scaleChecks: [],
    feeds: (parts.feeds ?? []).map((f) => ({
      animalId: "P1",
      groupId: null,
      dietId: "formula",
      batchId: null,
      offeredG: 50,
      refusedG: 0,
      route: "bottle",
      notes: null,
      origin,
      ...f,
    })),
    plans: (parts.plans ?? []).map(planRow),
    diets: (parts.diets ?? ([formula, clam] as readonly Record<string, unknown>[])).map((d) => ({
      name: null,
      waterPct: null,
      proteinPct: null,
      fatPct: null,
      carbohydratePct: null,
      fibrePct: null,
      ashPct: null,
      energyKcalPerG: null,
      densityGPerMl: null,
      useByH: null,
      origin,
      ...d,
    })),
    batches: (parts.batches ?? []).map((b) => ({
      massG: null,
      useByH: null,
      waterPct: null,
      proteinPct: null,
      fatPct: null,
      carbohydratePct: null,
      fibrePct: null,
      ashPct: null,
      energyKcalPerG: null,
      notes: null,
      origin,
      ...b,
    })),
    ingredients: [],
    housing: (parts.housing ?? []).map((h) => ({
      animalId: null,
      groupId: null,
      to: null,
      place: "nursery",
      origin,
      ...h,
    })),
    observations: (parts.observations ?? []).map((o) => ({
      animalId: "P1",
      value: null,
      valueText: null,
      unit: null,
      notes: null,
      origin,
      ...o,
    })),
    events: [],
  };
  const study = { settings: all, tables, setAside: [], counts: [], notices: [], inputs: [] };
  return buildSeries(study as unknown as Study, { slips: false });
}

/** Feeds every `everyH` hours over [from, to). */
export function feedsEvery(
  everyH: number,
  from: number,
  to: number,
  more: Record<string, unknown> = {},
): Loose[] {
  const out: Loose[] = [];
  for (let at = from; at < to; at += everyH * hour) out.push({ at, ...more });
  return out;
}

/** Daily masses from `start` along a line, with errors that sum to nothing where given. */
export function dailyMasses(
  days: number,
  massG: (d: number) => number,
): (readonly [number, number])[] {
  return Array.from({ length: days }, (_, d) => [start + d * day, massG(d)] as const);
}
