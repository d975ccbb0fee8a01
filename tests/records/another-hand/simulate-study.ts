import type { Random } from "../../../src/core/random.js";
import { type Cells, type Plant, plants, type TrueStudy } from "./true-study.js";

const names = ["Möwe", "Bramble", "Thistle", "Kestrel", "Señal", "Moss", "Juniper", "Pebble"];
const dayMs = 86_400_000;
const two = (n: number) => String(n).padStart(2, "0");

/**
 * An invented nursery: young that gain about 1 % a day, eight feeds a day against
 * an order, a temperature and a look for vomit, stool and urine each day; and on
 * the last day, by chance, one danger for each of most animals.
 */
export function simulateStudy(
  random: Random,
  size: { readonly animals: number; readonly days: number },
): TrueStudy {
  const first = Date.UTC(2025, random.below(2) === 0 ? 4 : 6, 1 + random.below(5));
  const day = (d: number) => new Date(first + d * dayMs).toISOString().slice(0, 10);
  const tables = {
    animals: [] as Cells[],
    weighings: [] as Cells[],
    feeds: [] as Cells[],
    plans: [] as Cells[],
    observations: [] as Cells[],
  };
  const planted: Record<string, Plant> = {};
  const firstPlant = random.below(plants.length);
  const last = size.days - 1;
  for (let a = 0; a < size.animals; a++) {
    const id = `P${a + 1}`;
    const plant = plants[(firstPlant + a) % plants.length]!;
    planted[id] = plant;
    const born = day(-40 - random.below(15));
    tables.animals.push({
      animal_id: id,
      name: names[a] ?? `Pup ${a + 1}`,
      species: "sea otter",
      sex: random.uniform() < 0.5 ? "female" : "male",
      birth_date_earliest: born,
      birth_date_latest: born,
      birth_date_basis: "observed",
      admitted_at: `${day(-20)} 14:${two(random.below(60))}`,
      season: "2025",
      outcome: "in care",
    });
    let perFeed = 0;
    const start = 3600 + random.below(1500);
    for (let d = 0; d < size.days; d++) {
      const body = start * 1.01 ** d;
      const lost = plant === "loss" && d === last ? 0.85 : 1;
      tables.weighings.push({
        animal_id: id,
        at: `${day(d)} 06:${two(10 + 5 * a + random.below(5))}`,
        mass_g: String(Math.round(body * lost + 410 + 6 * random.normal())),
        tare_g: "410",
        scale_id: "bench-1",
        method: "bucket",
        coat: "dry",
        meal: "before",
      });
      if (d % 5 === 0) {
        perFeed = Math.round((0.25 * body) / 8);
        tables.plans.push(order(id, `${day(d)} 06:00`, "milk", String(perFeed)));
      }
      if (plant === "nil by mouth" && d === last)
        tables.plans.push({
          ...order(id, `${day(d)} 12:00`, "nil by mouth", ""),
          feeds_per_day: "",
          feed_times: "",
        });
      // The feeding day runs from 07:00 to 04:00 of the next date; the last one is cut at 19:00.
      for (const hour of [7, 10, 13, 16, 19, 22, 25, 28]) {
        if (d === last && hour > 19) continue;
        if (plant === "missed feeds" && d === last && hour > 10) continue;
        if (plant === "nil by mouth" && d === last && hour > 12) continue;
        const at = new Date(first + d * dayMs + (hour * 60 + 2 * a + random.below(2)) * 60_000);
        const left = random.uniform();
        tables.feeds.push({
          animal_id: id,
          at: at.toISOString().slice(0, 16).replace("T", " "),
          diet_id: "milk",
          offered_g: String(perFeed),
          refused_g: left < 0.06 ? "" : left < 0.25 ? String(3 + random.below(20)) : "0",
          route: "bottle",
        });
      }
      const look = (time: string, kind: string, value: string, unit = "") =>
        tables.observations.push({ animal_id: id, at: `${day(d)} ${time}`, kind, value, unit });
      const cold = plant === "cold" && d === last;
      look(
        "08:00",
        "temperature",
        cold ? "34.9" : (37.6 + random.below(5) / 10).toFixed(1),
        "degC",
      );
      look("08:05", "stool", "normal");
      look("08:05", "urine", "seen");
      if (plant === "vomit twice" && d === last) {
        look("15:20", "vomit", "yes");
        look("17:40", "vomit", "yes");
      } else look("18:00", "vomit", "none");
    }
  }
  const table = (rows: readonly Cells[]) => ({ columns: Object.keys(rows[0]!), rows });
  return {
    settings: {
      title: "Invented nursery",
      species: ["sea otter"],
      zone: "Europe/Berlin",
      feeding_day_start_hour: 6,
    },
    tables: {
      ...Object.fromEntries(
        Object.entries(tables).map(([name, rows]) => [name, table(inOrder(name, rows))]),
      ),
      diets: table(diets),
    },
    planted,
  };
}

const order = (id: string, from: string, diet: string, grams: string): Cells => ({
  animal_id: id,
  from,
  to: "",
  diet_id: diet,
  g_per_feed: grams,
  feeds_per_day: "8",
  feed_times: "07:00 10:00 13:00 16:00 19:00 22:00 01:00 04:00",
  ordered_by: "A. Vellum",
});

const diets: readonly Cells[] = [
  {
    diet_id: "milk",
    name: "Milk",
    kind: "formula",
    water_pct: "81.4",
    protein_pct: "7.2",
    fat_pct: "6.9",
    carbohydrate_pct: "3.7",
    ash_pct: "0.8",
    energy_kcal_per_g: "1.06",
    density_g_per_ml: "1.03",
  },
];

/** Pages are written in the order of the day, all animals on one page. */
function inOrder(name: string, rows: readonly Cells[]): readonly Cells[] {
  const time = (row: Cells) => row["at"] ?? row["from"] ?? "";
  return name === "animals"
    ? rows
    : [...rows].sort((a, b) => (time(a) < time(b) ? -1 : time(a) > time(b) ? 1 : 0));
}
