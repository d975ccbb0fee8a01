import type { TableName } from "./study.js";

/** Tables that people fill in by hand; decisions, acknowledgements and answers come afterwards. */
export type FilledTable = Exclude<TableName, "decisions" | "acknowledgements" | "answers">;

/** One row of an example, by our column names; what is not named is left blank. */
export type ExampleRow = Readonly<Record<string, string | number>>;

const composition = {
  water_pct: 81.5,
  protein_pct: 7.5,
  fat_pct: 6.5,
  carbohydrate_pct: 3.7,
  fibre_pct: 0,
  ash_pct: 0.8,
};

/** Invented rows that show how each table is filled in; together they are a study that reads whole. */
export const exampleRows: Readonly<Record<FilledTable, readonly ExampleRow[]>> = {
  animals: [
    {
      animal_id: "A-01",
      name: "Marl",
      species: "sea otter",
      sex: "female",
      birth_date_earliest: "2025-03-01",
      birth_date_latest: "2025-03-03",
      birth_date_basis: "umbilicus",
      admitted_at: "2025-03-05 14:00",
      season: "2025",
      outcome: "in care",
    },
    {
      animal_id: "A-02",
      name: "Whin",
      species: "sea otter",
      sex: "unknown",
      birth_date_earliest: "2025-02-25",
      birth_date_latest: "2025-03-04",
      birth_date_basis: "teeth",
      admitted_at: "2025-03-06 09:30",
      season: "2025",
      outcome: "in care",
      notes: "born within these eight days",
    },
  ],
  weighings: [
    weighing("A-01", "2025-03-05 14:30", 2350, "dry", "before", "on arrival"),
    weighing("A-01", "2025-03-06 07:00", 2371, "dry", "before", ""),
    weighing("A-02", "2025-03-06 10:00", 2810, "damp", "after", ""),
  ],
  scale_checks: [
    { scale_id: "bench-1", at: "2025-03-05 06:30", known_g: 2000, reading_g: 2001 },
    { scale_id: "bench-1", at: "2025-03-12 06:30", known_g: 2000, reading_g: 1999 },
  ],
  feeds: [
    {
      animal_id: "A-01",
      at: "2025-03-05 18:00",
      diet_id: "milk-1",
      batch_id: "B-0305",
      offered_g: 60,
      refused_g: 12,
      route: "bottle",
      notes: "slow at first",
    },
    {
      animal_id: "A-01",
      at: "2025-03-05 20:00",
      diet_id: "milk-1",
      batch_id: "B-0305",
      offered_g: 60,
      refused_g: 0,
      route: "bottle",
    },
  ],
  plans: [
    {
      animal_id: "A-01",
      from: "2025-03-05 18:00",
      diet_id: "milk-1",
      g_per_feed: 60,
      feeds_per_day: 6,
      feed_times: "06:00 10:00 14:00 18:00 20:00 23:00",
      target_mass_g: 2600,
      ordered_by: "the veterinarian",
    },
  ],
  diets: [
    {
      diet_id: "milk-1",
      name: "formula, first mixture",
      kind: "formula",
      ...composition,
      energy_kcal_per_g: 1.04,
      density_g_per_ml: 1.03,
      use_by_h: 24,
    },
    { diet_id: "clam", name: "clam, shelled", kind: "solid", energy_kcal_per_g: 0.8 },
  ],
  batches: [
    {
      batch_id: "B-0305",
      diet_id: "milk-1",
      made_at: "2025-03-05 17:30",
      mass_g: 400,
      use_by_h: 24,
    },
  ],
  ingredients: [{ batch_id: "B-0305", diet_id: "clam", mass_g: 50 }],
  housing: [
    { animal_id: "A-01", from: "2025-03-05 14:00", to: "2025-03-09 10:00", place: "quiet room" },
    { animal_id: "A-01", from: "2025-03-09 10:00", place: "nursery pool" },
  ],
  observations: [
    { animal_id: "A-01", at: "2025-03-05 14:05", kind: "temperature", value: 37.2, unit: "degC" },
    { animal_id: "A-01", at: "2025-03-05 14:10", kind: "exam", value: "thin, alert" },
    { animal_id: "A-01", at: "2025-03-06 07:05", kind: "stool", value: "soft", notes: "yellow" },
  ],
  events: [
    {
      at: "2025-03-08 08:00",
      to: "2025-03-08 12:00",
      scope: "study",
      kind: "outage",
      notes: "scale room closed",
    },
  ],
};

function weighing(
  animal_id: string,
  at: string,
  mass_g: number,
  coat: string,
  meal: string,
  notes: string,
): ExampleRow {
  const usual = { tare_g: 410, scale_id: "bench-1", method: "bucket" };
  return { animal_id, at, mass_g, ...usual, coat, meal, notes };
}
