import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { utils, write } from "@e965/xlsx";
import { type Column, tableColumns, tableNames } from "../../src/records/columns.js";
import { priorAgesD } from "../../src/records/prior-ages.js";
import { priorText } from "../../src/records/prior-file.js";
import type { TableName } from "../../src/records/study.js";

/** The name of a person that nobody has, and that stands in no word of ours. */
export const planted = "Zorvane";

const days = Array.from({ length: 24 }, (_, i) => i + 1);
const day = (d: number) => `2025-03-${String(d).padStart(2, "0")}`;

/** One usable row of each table, by column; what is not named is blank. */
const usable: Readonly<Record<TableName, Readonly<Record<string, string>>>> = {
  animals: { animal_id: "A3", species: "sea otter", admitted_at: "2025-03-01 08:00" },
  weighings: { animal_id: "A1", at: "2025-03-12 18:00", mass_g: "2300", scale_id: "bench-1" },
  scale_checks: { scale_id: "bench-1", at: "2025-03-05 09:00", known_g: "2000", reading_g: "2001" },
  feeds: { animal_id: "A1", at: "2025-03-12 11:30", diet_id: "D1", offered_g: "60" },
  plans: { animal_id: "A2", from: "2025-03-20", diet_id: "D1", g_per_feed: "60" },
  diets: { diet_id: "squid", kind: "solid", energy_kcal_per_g: "0.9" },
  batches: { batch_id: "B2", diet_id: "D1", made_at: "2025-03-02 06:00" },
  ingredients: { batch_id: "B1", diet_id: "D1", mass_g: "100" },
  housing: { animal_id: "A1", from: "2025-03-01", place: "nursery" },
  observations: { animal_id: "A1", at: "2025-03-24 10:00", kind: "temperature", value: "37.5" },
  events: { at: "2025-03-10 08:00", scope: "study", kind: "outage" },
  decisions: {
    animal_id: "A1",
    at: "2025-03-10 06:00",
    mass_g: "2180",
    decision: "keep",
    decided_by: "JW",
    decided_on: "2025-03-11",
    why: "seen",
  },
  acknowledgements: {
    animal_id: "A1",
    acknowledged_on: "2025-03-12",
    acknowledged_by: "JW",
    note: "seen",
  },
  answers: {
    animal_id: "A1",
    reason: "hot",
    answered_at: "2025-03-12 12:00",
    answered_by: "JW",
    holds_until: "2025-03-13 08:00",
    note: "seen",
  },
};

/** Eight of them: fewer give no prior file. Feeds are of the first two. */
const ids = ["A1", "A2", "A11", "A12", "A13", "A14", "A15", "A16"];

const shown = (columns: readonly Column[], row: Readonly<Record<string, string>>) =>
  columns.map((column) => row[column.name] ?? "");

/** Rows of a table: usable ones, then one for each column with the name alone and one with the name beside. */
function rowsOf(table: TableName): string[][] {
  const columns = tableColumns[table];
  const heading = (name: string) =>
    table === "weighings" && name === "notes" ? `notes of ${planted}` : name;
  const rows = [
    columns.map((column) => heading(column.name)),
    ...basis(table).map((r) => shown(columns, r)),
  ];
  for (const column of columns) {
    for (const words of [planted, `${usable[table][column.name] ?? ""} ${planted}`.trim()]) {
      const id = column.name === "animal_id" ? words : (usable[table]["animal_id"] ?? "");
      // Another animal each time, where a row is an animal.
      const own = table === "animals" && column.name !== "animal_id" ? `A${rows.length}` : id;
      rows.push(shown(columns, { ...usable[table], animal_id: own, [column.name]: words }));
    }
  }
  return rows;
}

function basis(table: TableName): Readonly<Record<string, string>>[] {
  if (table === "animals")
    return ids.map((id) => ({
      ...usable.animals,
      animal_id: id,
      season: id > "A13" && id !== "A2" ? "2024" : "2025",
    }));
  if (table === "weighings")
    return ids.flatMap((id) =>
      days.map((d) => ({
        ...usable.weighings,
        animal_id: id,
        at: `${day(d)} 06:00`,
        mass_g: String(2000 + 18 * d),
      })),
    );
  if (table === "feeds")
    return ["A1", "A2"].flatMap((id) =>
      days.flatMap((d) =>
        ["07:00", "12:00", "17:00", "22:00"].map((at) => ({
          ...usable.feeds,
          animal_id: id,
          at: `${day(d)} ${at}`,
          refused_g: "2",
        })),
      ),
    );
  if (table === "diets")
    return [
      // A code that is fed, and a person in its name, as kitchens write it.
      { diet_id: "D1", name: `milk of ${planted}`, kind: "formula", energy_kcal_per_g: "1.1" },
      usable.diets,
    ];
  if (table === "batches") return [{ ...usable.batches, batch_id: "B1" }];
  return [usable[table]];
}

const prior = `${planted} prior.json`;

const settings = {
  title: `Nursery of ${planted}`,
  species: ["sea otter", `${planted} seal`],
  zone: "Europe/Berlin",
  // Without it no weighing stands for its day, and hardly anything would be told.
  blank_tare_is_zero: true,
  scale_error_g: { [`${planted}'s scale`]: 3 },
  species_overrides: {
    [`${planted} seal`]: {
      scientificName: planted,
      birthMass: { range: [9000, 12000], source: `told by ${planted}` },
      [planted]: 3,
    },
    "sea otter": { bodyTemperature: { range: [36, 38.5], source: planted } },
  },
  mass_bands: {
    A1: { set_by: `Dr ${planted}`, band: [{ on: "03-01", low_g: 3000, high_g: 4000 }] },
    [planted]: { band: [{ on: "03-01", low_g: 3000, high_g: 4000 }] },
  },
  call_whom: `${planted}, the number hangs at the door`,
  standing_instructions: { cold: `ring ${planted}`, [planted]: planted },
  watch_limits: { [planted]: 3 },
  floor_g: { A1: 4000, [planted]: 4000 },
  also_called: { A1: [planted, `${planted} 2`] },
  units: { [planted]: planted },
  columns: { weighings: { notes: `notes of ${planted}` } },
  decimals: { [`${planted} feeds.csv`]: "point" },
  priors: [prior],
  notes: planted,
  [planted]: planted,
};

const csv = (rows: readonly string[][]) => `${rows.map((r) => r.join(",")).join("\n")}\n`;

/** As CSV files, each called by the name; in a folder of its own inside `work`. */
export function csvStudy(work: string): string {
  const folder = join(work, "csv");
  mkdirSync(folder);
  const files = Object.fromEntries(tableNames.map((table) => [table, `${planted} ${table}.csv`]));
  writeSettings(folder, files);
  for (const table of tableNames)
    writeFileSync(join(folder, `${planted} ${table}.csv`), csv(rowsOf(table)));
  return folder;
}

/** As one workbook, its sheets and properties under the name. */
export function workbookStudy(work: string): string {
  const folder = join(work, "book");
  mkdirSync(folder);
  const book = utils.book_new();
  const files: Record<string, string> = {};
  for (const table of tableNames) {
    const sheet = `${planted} ${table}`;
    utils.book_append_sheet(book, utils.aoa_to_sheet(rowsOf(table)), sheet);
    files[table] = sheet;
  }
  book.Props = { Author: planted, Title: planted, Company: planted };
  writeFileSync(join(folder, `${planted}.xlsx`), write(book, { type: "buffer", bookType: "xlsx" }));
  writeSettings(folder, files);
  return folder;
}

function writeSettings(folder: string, files: Readonly<Record<string, string>>): void {
  writeFileSync(join(folder, "study.json"), JSON.stringify({ ...settings, files }));
  const summary = {
    animals: 12,
    seasons: 2,
    agesD: priorAgesD,
    information: priorAgesD.flatMap((_, i) => priorAgesD.map((__, j) => (i === j ? 4e6 : 0))),
    pulled: priorAgesD.map(() => 40_000),
    variation: {
      noise: { logMean: -4.4, logSd: 0.2 },
      lasting: { mean: 0.4, sd: 0.2 },
      wander: { logMean: -2.3, logSd: 0.3 },
      spread: { logMean: -2.2, logSd: 0.3 },
    },
  };
  const told = { ...JSON.parse(priorText(summary, "sea otter")), about: planted, by: planted };
  writeFileSync(join(folder, prior), JSON.stringify(told));
  // A sheet of their own, which nothing asks for.
  writeFileSync(join(folder, `${planted} rota.csv`), `${planted},on duty\n${planted},2025-03-02\n`);
}
