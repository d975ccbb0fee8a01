import { describe, expect, it } from "vitest";
import { askDay } from "../../src/analysis/ask-day.js";
import { askFeedingPlan } from "../../src/analysis/ask-feeding-plan.js";
import { askSeasons } from "../../src/analysis/ask-seasons.js";
import { askSlowGainer } from "../../src/analysis/ask-slow-gainer.js";
import { type Random, seededRandom } from "../../src/core/random.js";
import { UsageError } from "../../src/core/usage-error.js";
import type { StudyInput } from "../../src/records/find-tables.js";
import { parseStudy } from "../../src/records/parse-study.js";

/**
 * Cells of a small study are replaced by numbers at the edge of what a double holds
 * and by times at the edge of the calendar. Whatever is read of it, no result holds
 * Infinity or NaN, no row is lost (counted here, not by the reader), and what is
 * refused is refused with a sentence.
 */
const edges = [
  "1e308",
  "-1e308",
  "1.7976931348623157e308",
  "5e-324",
  "1e-300",
  "-0",
  "0",
  "9007199254740993",
  "1e15",
  "5000000",
  "4999999.999",
  "0.000001",
  "-0.000001",
  "1e309",
  "NaN",
  "Infinity",
  "",
];
const times = [
  "0001-01-01 00:00",
  "9999-12-31 23:59",
  "1582-10-10 10:00",
  "1969-12-31 23:59",
  "2025-03-30 02:30",
  "2025-03-01 00:00",
  "275760-09-13 00:00",
  "2024-02-29 12:00",
];

const day = (d: number) => `2025-03-${String(d).padStart(2, "0")}`;
const ids = ["A1", "A2", "A3"];
const days = Array.from({ length: 18 }, (_, i) => i + 1);

function tables(): Record<string, string[][]> {
  return {
    animals: [
      "animal_id,species,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season".split(
        ",",
      ),
      ...ids.map((id) => [
        id,
        "sea otter",
        "2025-02-20",
        "2025-02-22",
        "teeth",
        "2025-02-25 10:00",
        "2025",
      ]),
    ],
    weighings: [
      "animal_id,at,mass_g,tare_g".split(","),
      ...ids.flatMap((id, i) =>
        days.map((d) => [id, `${day(d)} 06:00`, String(2000 + 25 * d + 100 * i), "0"]),
      ),
    ],
    feeds: [
      "animal_id,at,diet_id,batch_id,offered_g,refused_g".split(","),
      ...ids.flatMap((id) =>
        days.flatMap((d) =>
          ["08:00", "12:00", "16:00", "20:00"].map((at) => [
            id,
            `${day(d)} ${at}`,
            "milk",
            d === 17 ? "b1" : d === 18 ? "b2" : "",
            "90",
            "3",
          ]),
        ),
      ),
    ],
    diets: [
      "diet_id,kind,water_pct,protein_pct,fat_pct,energy_kcal_per_g,density_g_per_ml".split(","),
      ["milk", "formula", "78", "9", "9", "1.2", "1.03"],
      ["squid", "solid", "80", "15", "1", "0.8", ""],
      ["oil", "supplement", "0", "0", "100", "9", "0.92"],
    ],
    batches: [
      "batch_id,diet_id,made_at,mass_g,use_by_h,water_pct,fat_pct,energy_kcal_per_g".split(","),
      ["b1", "milk", `${day(17)} 06:00`, "900", "24", "78", "9", ""],
      ["b2", "milk", `${day(18)} 06:00`, "900", "24", "", "", "1.1"],
    ],
    ingredients: [
      "batch_id,diet_id,mass_g".split(","),
      ["b1", "squid", "300"],
      ["b1", "oil", "600"],
    ],
    housing: [
      "animal_id,from,to,place".split(","),
      ...ids.map((id) => [id, `${day(1)} 06:00`, "", "nursery"]),
    ],
    events: [
      "at,to,scope,kind".split(","),
      [`${day(5)} 06:00`, `${day(6)} 06:00`, "study", "outage"],
    ],
    decisions: [
      "animal_id,at,mass_g,decision,new_mass_g,decided_by,decided_on,why".split(","),
      ["A1", `${day(4)} 06:00`, "2100", "correct", "2101", "JW", day(5), "seen"],
    ],
    plans: [
      "animal_id,from,diet_id,g_per_feed,feeds_per_day,target_mass_g".split(","),
      ...ids.map((id) => [id, day(10), "milk", "90", "4", "3000"]),
    ],
    observations: [
      "animal_id,at,kind,value,unit".split(","),
      ...ids.map((id) => [id, `${day(18)} 07:00`, "temperature", "37.4", "degC"]),
      ...ids.map((id) => [id, `${day(10)} 07:00`, "length", "60", "cm"]),
    ],
    scale_checks: [
      "scale_id,at,known_g,reading_g".split(","),
      ["bench-1", `${day(3)} 09:00`, "2000", "2001"],
    ],
  };
}

/** Replaces one to five cells below the headers. */
function edged(random: Random): Record<string, string[][]> {
  const made = tables();
  const names = Object.keys(made);
  for (let n = 1 + random.below(5); n > 0; n--) {
    const rows = made[names[random.below(names.length)]!]!;
    const row = rows[1 + random.below(rows.length - 1)]!;
    const at = random.below(row.length);
    const isTime = /^\d{4}-/.test(row[at]!);
    const from = isTime ? times : edges;
    // Ids stay: an animal that is no longer there is another attack.
    if (isTime || /^[\d.]*$/.test(row[at]!)) row[at] = from[random.below(from.length)]!;
  }
  return made;
}

const file = (path: string, text: string): StudyInput => ({
  path,
  bytes: new TextEncoder().encode(text),
});

/** Paths of the values in a plain result that are no finite number. */
function notFinite(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => notFinite(each, `${path}.${key}`));
}

async function attack(random: Random): Promise<string[]> {
  const made = edged(random);
  const study = parseStudy([
    file("study.json", '{"title":"Edge","zone":"Europe/Berlin","species":["sea otter"]}'),
    ...Object.entries(made).map(([name, rows]) =>
      file(`${name}.csv`, `${rows.map((row) => row.join(",")).join("\n")}\n`),
    ),
  ]);
  const faults = notFinite(study, "study");
  for (const [table, rows] of Object.entries(made)) {
    const counted = study.counts
      .filter((count) => count.table === table)
      .reduce((sum, count) => sum + count.accepted + count.setAside, 0);
    if (counted !== rows.length - 1) faults.push(`${table}: ${counted} of ${rows.length - 1} rows`);
  }
  const questions: Record<string, () => Promise<unknown>> = {
    day: () => askDay(study, { curves: [] }),
    plan: () => askFeedingPlan(study, { forecastSpecies: "sea otter", targetG: 3000 }),
    slow: () => askSlowGainer(study, { animal: "A1" }),
    seasons: () => askSeasons(study, { species: "sea otter" }),
  };
  for (const [name, ask] of Object.entries(questions)) {
    try {
      faults.push(...notFinite(await ask(), name));
    } catch (error) {
      if (!(error instanceof UsageError)) faults.push(`${name}: ${(error as Error).stack}`);
    }
  }
  return faults;
}

describe("numbers and times at the edge", () => {
  const count = process.env["ATTACKS"] === "all" ? 400 : 8;
  it(`${count} studies: every result is finite, every row counted, every refusal a sentence`, async () => {
    const random = seededRandom(20261126);
    for (let i = 0; i < count; i++) {
      const faults = await attack(random.split(i));
      expect(faults.slice(0, 3), `study ${i}`).toEqual([]);
    }
  }, 1_200_000);
});
