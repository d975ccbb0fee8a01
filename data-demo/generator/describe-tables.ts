import { ZONE } from "./clock.js";
import type { DemoTable } from "./demo-table.js";
import { scaleErrorG } from "./weigh.js";

/** `study.json`: the settings of the study, in snake_case. */
export function studySettings(): unknown {
  return {
    title: "Vossamerle Nursery (invented), four seasons",
    species: ["sea otter", "harbour seal"],
    zone: ZONE,
    feeding_day_start_hour: 6,
    blank_tare_is_zero: false,
    blank_refusal_is_none: false,
    date_style: "year-month-day",
    decimal: "point",
    scale_error_g: scaleErrorG,
    call_whom: "the veterinarian on call (the number hangs beside the kitchen door)",
    standing_instructions: {
      "repeated vomit":
        "No feed and no fluids by mouth until we have spoken; keep warm, on its belly, and ring at any hour.",
      cold: "Warm slowly, no feed below 36.0 °C, ring at any hour.",
    },
    units: { mass: "g", length: "cm", temperature: "degC", energy: "kcal" },
  };
}

const dateTimes = new Set(["at", "from", "to", "made_at", "admitted_at"]);
const texts: Readonly<Record<string, readonly string[]>> = {
  species: ["sea otter", "harbour seal"],
  sex: ["female", "male", "unknown"],
  birth_date_basis: ["observed", "teeth", "pelage", "umbilicus", "mass", "unknown"],
  outcome: ["in care", "released", "transferred", "long-term care", "died", "euthanised"],
  method: ["carried", "bucket", "platform", "voluntary"],
  coat: ["dry", "damp", "wet"],
  meal: ["before", "after", "unknown"],
  route: ["bottle", "syringe", "tube", "hand", "free"],
};
const keys: Readonly<Record<string, string>> = {
  animals: "animal_id",
  diets: "diet_id",
  batches: "batch_id",
};
const points = {
  animal_id: { resource: "animals", fields: "animal_id" },
  diet_id: { resource: "diets", fields: "diet_id" },
  batch_id: { resource: "batches", fields: "batch_id" },
} as const;

/** `datapackage.json`: a Frictionless data package (Table Schema) for the tables. */
export function dataPackage(tables: readonly DemoTable[]): unknown {
  return {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name: "gramline-demo",
    title: "Invented nursery, four seasons",
    description:
      "Wholly invented records of hand-reared sea otter and harbour seal pups. No real animal, person or place. Some cells are wrong on purpose.",
    licenses: [{ name: "CC0-1.0", path: "https://creativecommons.org/publicdomain/zero/1.0/" }],
    resources: tables.map((table) => ({
      name: table.name,
      path: `${table.name}.csv`,
      type: "table",
      format: "csv",
      mediatype: "text/csv",
      encoding: "utf-8",
      schema: {
        fields: table.columns.map((name) => field(table, name)),
        missingValues: [""],
        ...(keys[table.name] === undefined ? {} : { primaryKey: [keys[table.name]] }),
        foreignKeys: table.columns
          .filter((name) => name in points && keys[table.name] !== name)
          .map((name) => ({
            fields: [name],
            reference: { resource: points[name as keyof typeof points].resource, fields: [name] },
          })),
      },
    })),
  };
}

function field(table: DemoTable, name: string): unknown {
  if (dateTimes.has(name)) return { name, type: "datetime", format: "any" };
  if (name === "outcome_date" || name.startsWith("birth_date_e") || name.startsWith("birth_date_l"))
    return { name, type: "date" };
  if (/_g$|_pct$|_h$|_per_g$|_per_ml$|^g_per|^feeds_per/.test(name))
    return { name, type: "number" };
  const listed = table.name === "events" ? undefined : texts[name];
  return listed === undefined
    ? { name, type: "string" }
    : { name, type: "string", constraints: { enum: listed } };
}
