import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { inflateSync } from "node:zlib";
import { utils, write } from "@e965/xlsx";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeDay } from "../../src/publish/write-day.js";
import { writeHandOver } from "../../src/publish/write-hand-over.js";
import { writeReport } from "../../src/publish/write-report.js";
import { pdfSet, writeSet } from "../../src/publish/write-set.js";
import { type Column, tableColumns, tableNames } from "../../src/records/columns.js";
import type { TableName } from "../../src/records/study.js";

/**
 * A person's name is planted in every cell of every table, in file names, sheet
 * names and every text of study.json; none of its bytes may leave with an export
 * without people, whether the row was accepted or set aside.
 */
const planted = "Zorvane";

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

const shown = (columns: readonly Column[], row: Readonly<Record<string, string>>) =>
  columns.map((column) => row[column.name] ?? "");

/** Rows of a table: usable ones, then one for each column with the name alone and one with the name beside. */
function rowsOf(table: TableName): string[][] {
  const columns = tableColumns[table];
  const rows = [
    columns.map((column) => column.name),
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
    return ["A1", "A2"].map((id) => ({ ...usable.animals, animal_id: id, season: "2025" }));
  if (table === "weighings")
    return ["A1", "A2"].flatMap((id) =>
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

const settings = {
  title: `Nursery of ${planted}`,
  species: ["sea otter", `${planted} seal`],
  zone: "Europe/Berlin",
  scale_error_g: { [`${planted}'s scale`]: 3 },
  species_overrides: {
    [`${planted} seal`]: {
      scientificName: planted,
      birthMass: { range: [9000, 12000], source: `told by ${planted}` },
      [planted]: 3,
    },
    "sea otter": { bodyTemperature: { range: [36, 38.5], source: planted } },
  },
  notes: planted,
  [planted]: planted,
};

const csv = (rows: readonly string[][]) => `${rows.map((r) => r.join(",")).join("\n")}\n`;

let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-people-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

function csvStudy(): string {
  const folder = join(work, "csv");
  mkdirSync(folder);
  const files = Object.fromEntries(tableNames.map((table) => [table, `${planted} ${table}.csv`]));
  writeFileSync(join(folder, "study.json"), JSON.stringify({ ...settings, files }));
  for (const table of tableNames)
    writeFileSync(join(folder, `${planted} ${table}.csv`), csv(rowsOf(table)));
  return folder;
}

function workbookStudy(): string {
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
  writeFileSync(join(folder, "study.json"), JSON.stringify({ ...settings, files }));
  return folder;
}

/** Every text in a folder: names of files, contents, archives unpacked, streams of documents inflated. */
function textsOf(folder: string): [string, string][] {
  return readdirSync(folder, { recursive: true, withFileTypes: true }).flatMap((entry) => {
    if (!entry.isFile()) return [];
    const path = join(entry.parentPath, entry.name);
    const name = relative(folder, path);
    const bytes = new Uint8Array(readFileSync(path));
    const inside: [string, string][] = /\.(docx|xlsx|zip)$/.test(name)
      ? Object.entries(unzipSync(bytes)).map(([part, data]) => [`${name}/${part}`, strFromU8(data)])
      : /\.pdf$/.test(name)
        ? [[name, inflated(Buffer.from(bytes))]]
        : [[name, strFromU8(bytes)]];
    return [[name, name] as [string, string], ...inside];
  });
}

/** Every stream of a document that can be inflated, and what lies between. */
function inflated(bytes: Buffer): string {
  let text = bytes.toString("latin1");
  for (const { index } of text.matchAll(/stream\r?\n/g)) {
    try {
      text += inflateSync(bytes.subarray(index + 7)).toString("latin1");
    } catch {
      // No compressed stream begins here.
    }
  }
  return text;
}

const finds = (folder: string) =>
  textsOf(folder)
    .filter(([, text]) => text.toLowerCase().includes(planted.toLowerCase()))
    .map(([name]) => name);

async function outputs(study: string, out: string, withoutPeople: boolean): Promise<void> {
  await writeReport(study, { out: join(out, "report"), date: "2026-01-31", withoutPeople });
  await writeHandOver(study, {
    out: join(out, "pages", "hand-over.html"),
    sheet: join(out, "pages", "sheet.html"),
    withoutPeople,
  });
  await writeDay(study, { out: join(out, "pages", "day.html"), withoutPeople });
}

describe("a name planted in every cell, file name, sheet name and setting", () => {
  // The workbook takes as long again: by `ATTACKS=all`, as `npm run attack` does.
  const ways = [["CSV files", csvStudy] as const, ["a workbook", workbookStudy] as const];
  const tried = process.env["ATTACKS"] === "all" ? ways : ways.slice(0, 1);
  it.each(tried)("is in no byte of an export without people: %s", async (_, make) => {
    const study = make();
    const out = join(study, "out");
    await outputs(study, out, false);
    // It is there to be found with people, in pages, tables and documents alike.
    const told = finds(out);
    for (const part of ["report.html", "tables.xlsx", "report.docx", "hand-over.html"])
      expect(told.some((name) => name.includes(part))).toBe(true);
    // A PDF printed from the report with people is one of ours and goes with it.
    const pdf = `%PDF-1.4 ${planted}`;
    await writeSet(join(out, "report"), pdfSet, new Map([["report.pdf", pdf]]));
    await outputs(study, out, true);
    expect(finds(out)).toEqual([]);
    const [folder] = readdirSync(join(out, "report")).filter((name) => name.startsWith("report-"));
    const page = readFileSync(join(out, "report", folder!, "report.html"), "utf8");
    expect(page.includes("texts that nobody can vouch for")).toBe(true);
  });
});
