import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import Papa from "papaparse";
import type { Random } from "../../../src/core/random.js";
import type { Cells, TrueStudy, TrueTable } from "./true-study.js";

const folder = fileURLToPath(new URL("../../fixtures/demo-853cc0e/", import.meta.url));

function table(name: string): readonly Cells[] {
  const text = readFileSync(`${folder}${name}.csv`, "utf8");
  return Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true }).data;
}

const parts = ["animals", "weighings", "feeds", "plans", "observations", "diets"] as const;
let read: Readonly<Record<(typeof parts)[number], readonly Cells[]>> | null = null;

/**
 * A few animals of one season of the demo over some weeks, as it stands in the
 * fixture, its planted slips and dangers with it.
 */
export function demoPart(
  random: Random,
  size: { readonly animals: number; readonly days: number },
): TrueStudy {
  read ??= Object.fromEntries(parts.map((name) => [name, table(name)])) as NonNullable<typeof read>;
  const demo = read;
  const season = ["2021", "2022", "2023", "2024"][random.below(4)]!;
  const group = random.shuffled(demo.animals.filter((a) => a["season"] === season));
  const lead = demo.weighings.filter((w) => w["animal_id"] === group[0]!["animal_id"]);
  const first = lead[random.below(Math.max(1, lead.length - size.days))]!["at"]!.slice(0, 10);
  const last = new Date(Date.parse(`${first}T00:00Z`) + size.days * 86_400_000)
    .toISOString()
    .slice(0, 10);
  // Feeding days as a whole: nobody could say to which page a night before the first belongs.
  const within = (at: string) => at >= `${first} 06` && at < `${last} 06`;
  const weighed = (id: string) =>
    demo.weighings.filter((w) => w["animal_id"] === id && within(w["at"]!)).length;
  const chosen = group.filter((a) => weighed(a["animal_id"]!) >= 5).slice(0, size.animals);
  const ids = new Set(chosen.map((a) => a["animal_id"]!));
  const own = (rows: readonly Cells[]) => rows.filter((row) => ids.has(row["animal_id"]!));
  const feeds = own(demo.feeds).filter((row) => within(row["at"]!));
  const plans = own(demo.plans).filter(
    (row) => row["from"]! < `${last} 06` && (row["to"] === "" || row["to"]! > first),
  );
  const diets = new Set([...feeds, ...plans].map((row) => row["diet_id"]!));
  const cut: Readonly<Record<string, readonly Cells[]>> = {
    // Whoever is still there at the end of these weeks is in care.
    animals: chosen.map((a) => ({
      ...a,
      outcome: "in care",
      outcome_reason: "",
      outcome_date: "",
    })),
    weighings: own(demo.weighings).filter((row) => within(row["at"]!)),
    feeds,
    plans,
    observations: own(demo.observations).filter((row) => within(row["at"]!)),
    diets: demo.diets.filter((row) => diets.has(row["diet_id"]!)),
  };
  const { title, species, zone, feeding_day_start_hour } = JSON.parse(
    readFileSync(`${folder}study.json`, "utf8"),
  ) as Record<string, unknown> & { zone: string };
  return {
    settings: { title, species, zone, feeding_day_start_hour },
    tables: Object.fromEntries(
      Object.entries(cut)
        .filter(([, rows]) => rows.length > 0)
        .map(([name, rows]): [string, TrueTable] => [name, { columns: columnsOf(rows), rows }]),
    ),
    planted: {},
  };
}

/** Columns of other tables that are not brought along, and notes, are left out. */
const columnsOf = (rows: readonly Cells[]) =>
  Object.keys(rows[0]!).filter((c) => !["notes", "batch_id", "group_id"].includes(c));
