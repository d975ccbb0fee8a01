import { type Random, seededRandom } from "../../src/core/random.js";
import { type Character, LAST_DAY, RECORDS_END } from "./cast.js";
import { instantOf, localText } from "./clock.js";
import type { DemoRow, DemoTable } from "./demo-table.js";
import type { Life, LifeDay } from "./life.js";

/** Steps that are looked for once a week until they are seen, with the age at which they truly come. */
export function milestonesOf(
  c: Character,
): readonly { readonly name: string; readonly age: number }[] {
  const r = seededRandom(c.seed).split(311);
  const about = (age: number, spread: number) => Math.max(1, Math.round(age + spread * r.normal()));
  if (c.species === "sea otter")
    return [
      { name: "natal pelage moult begins", age: about(45, 4) },
      { name: "first unaided dive", age: about(72, 9) },
      { name: "adult pelage complete", age: about(90, 6) },
      { name: "integration with others", age: about(126, 8) },
      { name: "voluntary platform weighing", age: about(112, 7) },
      { name: "full weaning", age: c.weanedAge + 1 },
      { name: "release or long-term care decision", age: c.leavesAge - 4 },
    ];
  return [
    { name: "first unaided dive", age: about(16, 4) },
    { name: "full weaning", age: c.weanedAge + 1 },
    { name: "integration with others", age: about(72, 3) },
    { name: "release or long-term care decision", age: c.leavesAge - 4 },
  ];
}

export function observationTable(lives: readonly Life[], seed: number): DemoTable {
  return {
    name: "observations",
    columns: ["animal_id", "at", "kind", "value", "unit", "notes"],
    rows: lives.flatMap((life) =>
      observationsOf(life, seededRandom(seed).split(life.character.seed + 53)),
    ),
  };
}

type Add = (
  day: number,
  minute: number,
  kind: string,
  value: string,
  unit?: string,
  notes?: string,
) => void;

function observationsOf(life: Life, root: Random): DemoRow[] {
  const c = life.character;
  const rows: DemoRow[] = [];
  const otter = c.species === "sea otter";
  const add = (day: number, minute: number, kind: string, value: string, unit = "", notes = "") => {
    const at = instantOf(day, Math.round(minute));
    if (at > RECORDS_END) return;
    rows.push({ order: at, cells: [c.id, localText(at), kind, value, unit, notes] });
  };
  const open = new Map(milestonesOf(c).map((m) => [m.name, m.age]));
  const firstSolid = life.feeds.find(
    (f) => f.dietId === "clam" || f.dietId === "squid" || f.dietId === "herring",
  );
  for (const d of life.days) {
    const r = root.split(d.day);
    const t = (base: number) => base + r.below(25);
    if (d.sinceAdmissionD === 0) {
      add(d.day, c.admittedMinute + 10, "exam", "admission exam", "", "thin, alert");
      add(
        d.day,
        c.admittedMinute + 14,
        "temperature",
        (otter ? 36.9 + 0.3 * r.normal() : 37.2 + 0.3 * r.normal()).toFixed(1),
        "degC",
      );
      add(
        d.day,
        c.admittedMinute + 20,
        "glucose",
        String(Math.round(68 + 10 * r.normal())),
        "mg/dL",
      );
      add(
        d.day,
        c.admittedMinute + 30,
        "fluids",
        String(Math.round(d.fromG * 0.02)),
        "mL",
        "under the skin",
      );
      continue;
    }
    if (d.sinceAdmissionD === 1)
      add(d.day, t(480), "fluids", String(Math.round(d.fromG * 0.015)), "mL", "by mouth");
    const daily = d.ageD < 90 || d.ill !== null;
    if (daily || d.day % 3 === 0)
      add(d.day, t(425), "temperature", temperature(c, d, r).toFixed(1), "degC");
    if (d.ageD < 60) excretions(d, r, add, c.lastDay === "soft stools");
    if (c.lastDay === "vomits" && d.day > LAST_DAY) {
      add(d.day, 131, "vomit", "1", "count", "milk, about a third of the feed");
      add(d.day, 291, "vomit", "1", "count", "milk and froth");
      add(d.day, 295, "note", "quiet, lies on its side");
    }
    if (r.uniform() < 0.006)
      add(d.day, t(640), "regurgitation", "1", "count", "small, after the feed");
    if (d.ill !== null && r.uniform() < 0.12) add(d.day, t(1000), "vomit", "1", "count");
    if (otter && d.ageD < 40 && r.uniform() < 0.012)
      add(d.day, t(560), "bloat", "mild", "", "settled in an hour");
    if (otter && d.ageD >= 12 && d.day % 3 === 0)
      add(
        d.day,
        t(840),
        "swim",
        String(Math.round(10 + Math.min(80, d.ageD) + 6 * r.normal())),
        "min",
      );
    if (otter && d.ageD < 75 && d.day % 2 === 0)
      add(
        d.day,
        t(780),
        "groom",
        String(Math.max(5, Math.round(70 - 0.6 * d.ageD + 8 * r.normal()))),
        "min",
        "by hand",
      );
    if (d.sinceAdmissionD % 7 === 0) weekly(c, d, r, add);
    let k = 0;
    for (const [name, age] of open) {
      k++;
      const due = d.ageD % 7 === c.seed % 7 && d.ageD > age - 30;
      if (d.ageD >= age && (due || r.uniform() < 0.25)) {
        add(d.day, t(900 + 30 * k), "milestone", "seen", "", name);
        open.delete(name);
      } else if (due && d.ageD < age) add(d.day, t(900 + 30 * k), "milestone", "not yet", "", name);
    }
    if (firstSolid?.day === d.day) add(d.day, t(1200), "milestone", "seen", "", "first solid");
    if (d.ill !== null) {
      const start = life.days.find((e) => e.ill === d.ill && e.day >= d.day - 12)!.day === d.day;
      if (start) {
        add(d.day, t(500), "exam", d.ill === "failing" ? "weak, slow to feed" : d.ill);
        add(
          d.day,
          t(505),
          "glucose",
          String(Math.round((d.ill === "failing" ? 58 : 92) + 8 * r.normal())),
          "mg/dL",
        );
      }
      if (d.ill !== "skin") add(d.day, t(560), "medication", "given as ordered", "", d.ill);
      if (d.ill === "loose stool" || d.ill === "failing")
        add(d.day, t(600), "fluids", String(Math.round(d.fromG * 0.01)), "mL");
    }
    if (r.uniform() < 0.015)
      add(
        d.day,
        t(1150),
        "note",
        ["quiet night", "calls a lot before feeds", "rests well", "plays with ice"][r.below(4)]!,
      );
  }
  return rows;
}

/** Stool and urine, looked for morning and evening in the very young, once a day later. */
function excretions(d: LifeDay, r: Random, add: Add, softAtLast: boolean): void {
  const soft = softAtLast && d.day >= LAST_DAY;
  const isLoose = d.ill === "loose stool" || d.ill === "failing" || soft;
  const usual = d.ageD < 30 ? [500, 1080] : [560];
  const minutes = !soft ? usual : d.day === LAST_DAY ? [690, 1080] : [100];
  for (const minute of minutes) {
    const stool = r.uniform() < 0.02 ? "none" : "formed";
    add(d.day, minute + r.below(25), "stool", isLoose ? "loose" : stool);
    if (d.ageD < 40) add(d.day, minute + 3 + r.below(20), "urine", "clear");
  }
}

function temperature(c: Character, d: LifeDay, r: Random): number {
  const normal = c.species === "sea otter" ? 37.8 : 37.2;
  const ill = d.ill === "failing" ? -0.7 : d.ill === null || d.ill === "skin" ? 0 : 0.7;
  return normal + ill + 0.09 * r.normal();
}

/** Body length from mass: allometric, about 55 cm at 1.8 kg in the otters, 81 cm at 8.7 kg in the seals. */
function weekly(c: Character, d: LifeDay, r: Random, add: Add): void {
  const kg = d.fromG / 1000;
  const length = c.species === "sea otter" ? 55 * (kg / 1.8) ** 0.36 : 81 * (kg / 8.7) ** 0.25;
  const girth = c.species === "sea otter" ? 33 * (kg / 1.8) ** 0.32 : 58 * (kg / 8.7) ** 0.42;
  add(d.day, 620, "length", (length + 0.6 * r.normal()).toFixed(1), "cm", "nose to tail tip");
  add(d.day, 622, "girth", (girth + 0.6 * r.normal()).toFixed(1), "cm");
  const score =
    d.stage === "arrival" ? 2 : d.ill === "failing" ? 1.5 : 3 + (r.uniform() < 0.3 ? 0.5 : 0);
  add(d.day, 625, "condition score", String(score), "of 5");
  add(d.day, 630, "exam", "weekly exam", "", d.ill === null ? "unremarkable" : d.ill);
}
