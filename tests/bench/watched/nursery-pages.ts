import { seededRandom } from "../../../src/core/random.js";

/**
 * Pages of an invented nursery in which nobody is ill, as a keeper writes them: text
 * tables and nothing else. It shares no code with the rules that are tried on it, nor
 * with what thresholds were found on (a test of the imports holds that).
 *
 * How the pages are kept: "full", every line written; "tired", 5 of 100 feeds not
 * written and 15 of 100 refusals left blank.
 */
export type Kept = "full" | "tired";

export interface WatchedAnimal {
  readonly id: string;
  readonly species: "sea otter" | "harbour seal";
  /** Minutes from the begin of the nursery. */
  readonly admittedMin: number;
  readonly ageAtAdmissionD: number;
  readonly massG: number;
  /** Gain after the dip of the arrival, % a day, and that dip, %. */
  readonly gainPct: number;
  readonly dipPct: number;
  /** Temperatures a day while it is very young. */
  readonly temperatures: 1 | 2;
}

export interface Line {
  readonly animalId: string;
  readonly min: number;
}
export interface WeighingLine extends Line {
  readonly massG: number;
}
export interface FeedLine extends Line {
  readonly offeredG: number;
  readonly refusedG: number | null;
}
export interface SeenLine extends Line {
  readonly kind: string;
  readonly value: string;
  readonly unit?: string;
}

export interface Pages {
  readonly animals: readonly WatchedAnimal[];
  readonly days: number;
  readonly weighings: readonly WeighingLine[];
  readonly feeds: readonly FeedLine[];
  readonly seen: readonly SeenLine[];
}

/** The nursery begins at 06:00 of this day; its clock is UTC. */
export const firstDay = Date.UTC(2033, 3, 1, 6);
const dayMin = 1440;

/** Range of the healthy true temperature: inside what is published for the species. */
const warmth = { "sea otter": [37.8, 0.12], "harbour seal": [37.2, 0.25] } as const;

export function nurseryPages(seed: number, kept: Kept, size = 5, days = 35): Pages {
  const random = seededRandom(seed);
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const animals = Array.from({ length: size }, (_, i): WatchedAnimal => {
    const species = random.uniform() < 0.6 ? "sea otter" : "harbour seal";
    const ageAtAdmissionD =
      species === "sea otter" ? Math.floor(between(2, 70)) : Math.floor(between(2, 20));
    const base = species === "sea otter" ? 1800 * Math.exp(0.01 * ageAtAdmissionD) : 9000;
    return {
      id: `W${i + 1}`,
      species,
      admittedMin: Math.floor(between(0, 6 * dayMin)),
      ageAtAdmissionD,
      massG: base * Math.exp(0.08 * random.normal()),
      gainPct: species === "sea otter" ? between(0.8, 1.2) : between(0.8, 2),
      dipPct: between(0, 3),
      temperatures: random.uniform() < 0.5 ? 1 : 2,
    };
  });
  const weighings: WeighingLine[] = [];
  const feeds: FeedLine[] = [];
  const seen: SeenLine[] = [];
  for (const a of animals) {
    const mass = (min: number) => trueMass(a, (min - a.admittedMin) / dayMin);
    const noisy = (min: number) => Math.round(mass(min) * Math.exp(0.01 * random.normal()));
    weighings.push({ animalId: a.id, min: a.admittedMin + 20, massG: noisy(a.admittedMin + 20) });
    let sinceWeighed = 0;
    for (let d = Math.floor(a.admittedMin / dayMin); d < days; d++) {
      const begin = d * dayMin;
      const ageD = a.ageAtAdmissionD + (begin - a.admittedMin) / dayMin;
      const young = ageD < 28;
      const at = (clockH: number, spread: number) =>
        Math.round(begin + (clockH - 6) * 60 + spread * random.normal());
      const add = (kind: string, min: number, value: string, unit?: string) => {
        if (min > a.admittedMin)
          seen.push({ animalId: a.id, min, kind, value, ...(unit === undefined ? {} : { unit }) });
      };
      sinceWeighed++;
      const weighs = ageD < 60 || sinceWeighed >= 2 + (random.uniform() < 0.3 ? 1 : 0);
      const weighedAt = at(8.5, 20);
      if (weighs && weighedAt > a.admittedMin + 300 && random.uniform() > 0.02) {
        weighings.push({ animalId: a.id, min: weighedAt, massG: noisy(weighedAt) });
        sinceWeighed = 0;
      }
      if (young || d % 7 === 3) {
        const [mean, sd] = warmth[a.species];
        const taken = (clockH: number) => {
          const degC = mean + sd * random.normal() + 0.05 * random.normal();
          if (random.uniform() > 0.03) add("temperature", at(clockH, 15), degC.toFixed(1), "degC");
        };
        taken(9);
        if (young && a.temperatures === 2) taken(20);
      }
      for (const clockH of young ? [7, 19] : [10]) {
        add("urine", at(clockH, 20), pick(random.uniform(), ["clear", "yellow", "seen"]));
        if (random.uniform() < 0.9)
          add("stool", at(clockH + 0.3, 20), pick(random.uniform(), ["formed", "normal", "yes"]));
      }
      add("behaviour", at(11, 30), pick(random.uniform(), ["bright", "alert, playful", "normal"]));
      if (young) add("suckle", at(13, 30), pick(random.uniform(), ["good", "strong", "eager"]));
      if (random.uniform() < 0.02) add("stool", at(15, 60), "soft");
      if (random.uniform() < 0.005) add("regurgitation", at(17, 60), "once, 5 g");
      const clocks =
        ageD < 60 ? [6, 9, 12, 15, 18, 21, 24, 27] : [6.5, 10, 13.5, 17, 20.5].map((h) => h);
      for (const clockH of clocks) {
        const min = at(clockH, 10) + 10;
        if (min <= a.admittedMin + 60) continue;
        const share = (ageD < 60 ? 0.24 : 0.22) / clocks.length;
        const offeredG = Math.round(mass(min) * share * Math.exp(0.03 * random.normal()));
        const refusedG = random.uniform() < 0.12 ? Math.round(0.2 * offeredG) : 0;
        const lost = kept === "tired" && random.uniform() < 0.05;
        const blank = kept === "tired" && random.uniform() < 0.15;
        if (!lost) feeds.push({ animalId: a.id, min, offeredG, refusedG: blank ? null : refusedG });
      }
    }
  }
  return { animals, days, weighings, feeds, seen };
}

/** Mass after `days` in care: down by its dip over two days, back after four more, then its gain. */
export function trueMass(a: WatchedAnimal, days: number): number {
  const dip = a.dipPct / 100;
  const early = days < 2 ? -dip * (days / 2) : days < 6 ? -dip * (1 - (days - 2) / 4) : 0;
  return a.massG * (1 + early) * Math.exp((a.gainPct / 100) * Math.max(0, days - 3));
}

const pick = (u: number, of: readonly string[]) => of[Math.floor(u * of.length)]!;

const nightAndDay = ["00:00", "03:00", "06:00", "09:00", "12:00", "15:00", "18:00", "21:00"];
const byDay = ["06:30", "10:00", "13:30", "17:00", "20:30"];

const stamp = (min: number) =>
  new Date(firstDay + min * 60_000).toISOString().slice(0, 16).replace("T", " ");

/** The tables as files of a study folder. */
export function filesOf(pages: Pages): { path: string; bytes: Uint8Array }[] {
  const encode = (text: string) => new TextEncoder().encode(text);
  const csv = (head: string, rows: readonly (readonly (string | number | null)[])[]) =>
    `${head}\n${rows.map((r) => r.map((c) => (c === null ? "" : /,/.test(String(c)) ? `"${c}"` : c)).join(",")).join("\n")}\n`;
  const born = (a: WatchedAnimal) => stamp(a.admittedMin - a.ageAtAdmissionD * dayMin).slice(0, 10);
  const files: Record<string, string> = {
    "study.json": JSON.stringify({
      title: "Watched",
      species: ["sea otter", "harbour seal"],
      zone: "UTC",
      feeding_day_start_hour: 6,
      blank_tare_is_zero: true,
    }),
    "animals.csv": csv(
      "animal_id,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,outcome",
      pages.animals.map((a) => [
        a.id,
        a.species,
        "unknown",
        born(a),
        born(a),
        "observed",
        stamp(a.admittedMin),
        "in care",
      ]),
    ),
    "weighings.csv": csv(
      "animal_id,at,mass_g,tare_g,scale_id,coat,meal",
      pages.weighings.map((w) => [w.animalId, stamp(w.min), w.massG, 0, "S1", "dry", "before"]),
    ),
    "diets.csv": csv("diet_id,name,kind,energy_kcal_per_g", [["milk", "Milk", "formula", 1.3]]),
    "feeds.csv": csv(
      "animal_id,at,diet_id,offered_g,refused_g,route",
      pages.feeds.map((f) => [f.animalId, stamp(f.min), "milk", f.offeredG, f.refusedG, "bottle"]),
    ),
    "plans.csv": csv(
      "animal_id,from,diet_id,g_per_feed,feed_times,ordered_by",
      pages.animals.flatMap((a) => {
        // From the begin of the day on which it is 60 days old it is fed by day alone.
        const older = Math.ceil((a.admittedMin + (60 - a.ageAtAdmissionD) * dayMin) / dayMin);
        const g = (feeds: number) => Math.round((a.massG * 0.24) / feeds);
        const order = (min: number, clocks: readonly string[]) =>
          [a.id, stamp(min), "milk", g(clocks.length), clocks.join(" "), "V"] as const;
        const young = a.ageAtAdmissionD < 60;
        return [
          ...(young ? [order(a.admittedMin, nightAndDay)] : []),
          order(young ? older * dayMin : a.admittedMin, byDay),
        ];
      }),
    ),
    "observations.csv": csv(
      "animal_id,at,kind,value,unit",
      pages.seen.map((s) => [s.animalId, stamp(s.min), s.kind, s.value, s.unit ?? ""]),
    ),
  };
  return Object.entries(files).map(([path, text]) => ({ path, bytes: encode(text) }));
}
