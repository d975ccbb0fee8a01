import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/** Whether the engine is here; without it, tests of archives are skipped with this sentence. */
const name = "@duckdb/node-api";
export const engineIsHere = await import(name).then(
  () => true,
  () => false,
);
export const unlessHere = engineIsHere ? "" : " (skipped: DuckDB is not installed)";

export interface SmallStudy {
  /** Animals; ids begin with this letter. */
  readonly letter?: string;
  readonly zone?: string;
  readonly season?: string;
  readonly days?: number;
  /** g added to every mass. */
  readonly heavier?: number;
  readonly title?: string;
}

const two = (n: number) => String(n).padStart(2, "0");

/** An invented study of two animals with weighings, feeds, a decision and a row that is set aside. */
export function makeStudy(folder: string, options: SmallStudy = {}): string {
  const { letter = "A", zone = "America/St_Johns", season = "2025", days = 20 } = options;
  mkdirSync(folder, { recursive: true });
  const file = (each: string, lines: readonly string[]) =>
    writeFileSync(join(folder, each), `${lines.join("\n")}\n`);
  file("study.json", [
    JSON.stringify({
      title: options.title ?? "Quellmarsh, kept by Zorvane Ilthurn",
      zone,
      species: ["sea otter"],
      feeding_day_start_hour: 6,
      blank_tare_is_zero: true,
    }),
  ]);
  const ids = [1, 2].map((i) => `${letter}25-0${i}`);
  file("animals.csv", [
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome,notes",
    ...ids.map(
      (id, i) =>
        `${id},Fennimor${i},sea otter,female,2025-02-${two(10 + i)},2025-02-${two(10 + i)},umbilicus,2025-03-01 08:00,${season},in care,brought by Zorvane`,
    ),
  ]);
  const all = ids.flatMap((id) => Array.from({ length: days }, (_, d) => ({ id, d })));
  const mass = (d: number) => 2000 + 41 * d + (options.heavier ?? 0);
  file("weighings.csv", [
    "animal_id,at,mass_g,coat,meal",
    ...all.map(({ id, d }) => `${id},2025-03-${two(d + 1)} 07:00,${mass(d)},dry,before`),
    `${ids[0]},2025-03-05 soon,2100,dry,before`,
  ]);
  file("feeds.csv", [
    "animal_id,at,diet_id,offered_g,refused_g,route,notes",
    ...all.flatMap(({ id, d }) =>
      [3, 10, 18].map(
        (h) =>
          `${id},2025-03-${two(d + 1)} ${two(h)}:30,formula-1,${60 + d},${h === 10 && d % 5 === 0 ? "" : 5},bottle,`,
      ),
    ),
  ]);
  file("diets.csv", [
    "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g",
    "formula-1,first formula,formula,81.4,7.2,6.9,3.7,0,0.8,1.06",
  ]);
  file("decisions.csv", [
    "animal_id,at,mass_g,decision,new_mass_g,decided_by,decided_on,why",
    `${ids[0]},2025-03-04 07:00,${mass(3)},correct,${mass(3) + 7},Zorvane Ilthurn,2025-03-06,read again`,
  ]);
  return folder;
}
