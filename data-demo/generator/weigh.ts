import { type Random, seededRandom } from "../../src/core/random.js";
import { type Character, LAST_DAY, RECORDS_END } from "./cast.js";
import { dayNumber, instantOf, localText, type Minute } from "./clock.js";
import type { DemoRow, DemoTable } from "./demo-table.js";
import type { Life } from "./life.js";

/** Standard deviation of one reading, g. */
export const scaleErrorG = { "bench-1": 3, "bench-2": 3, "floor-1": 40, "platform-1": 10 } as const;
export type ScaleId = keyof typeof scaleErrorG;

/** Days without weighings: the scale room was closed; the feeds went on. */
export const outages = [
  {
    from: dayNumber(2023, 7, 11),
    to: dayNumber(2023, 7, 14),
    notes: "scale room closed, roof leak",
  },
  {
    from: dayNumber(2024, 9, 3),
    to: dayNumber(2024, 9, 5),
    notes: "storm, no power for the scales",
  },
];

/** The room scale that drifts: what it shows of the true load. */
export function driftOf(scaleId: ScaleId, at: Minute, victim: Character): number {
  if (scaleId !== "bench-2" || victim.trouble === null) return 1;
  const from = instantOf(victim.birthDay + victim.trouble.fromAge, 0);
  const to = instantOf(victim.birthDay + victim.trouble.toAge, 0);
  if (at < from || at >= to) return 1;
  return 1 - ((1 - victim.trouble.factor) * (at - from)) / (to - from);
}

export function weighingRows(lives: readonly Life[], seed: number): DemoTable {
  const victim = lives.find((l) => l.character.trouble?.kind === "scale drifts")!.character;
  return {
    name: "weighings",
    columns: ["animal_id", "at", "mass_g", "tare_g", "scale_id", "method", "coat", "meal", "notes"],
    rows: lives.flatMap((life) => weighingsOf(life, victim, seed)),
  };
}

function weighingsOf(life: Life, victim: Character, seed: number): DemoRow[] {
  const c = life.character;
  const root = seededRandom(seed).split(c.seed + 71);
  const rows: DemoRow[] = [];
  const otter = c.species === "sea otter";
  const usualMinute = 430 + root.below(40);
  for (const d of life.days) {
    const r = root.split(d.day);
    const shut = outages.some((o) => d.day >= o.from && d.day <= o.to);
    if (shut || (d.sinceAdmissionD > 0 && r.uniform() < 0.025)) continue;
    const feedsToday = life.feeds.filter((f) => f.day === d.day);
    const moments: { at: Minute; meal: "before" | "after" | "unknown" }[] = [];
    const clock = (minute: number) => instantOf(d.day, minute);
    if (d.sinceAdmissionD === 0) {
      moments.push({ at: clock(c.admittedMinute + 15), meal: "before" });
    } else if (otter && d.ageD >= 125 && d.day % 2 === 1) {
      continue;
    } else if (!otter && d.ageD >= 50 && (LAST_DAY - d.day) % 3 !== 0) {
      continue;
    } else {
      const first = feedsToday.find((f) => f.at >= clock(usualMinute - 90));
      const usual = clock(usualMinute) + r.below(31) - 15;
      const before = first === undefined ? usual : Math.min(usual, first.at - 3 - r.below(6));
      if (r.uniform() < 0.05) moments.push({ at: usual + 60, meal: "unknown" });
      else moments.push({ at: before, meal: "before" });
      if (otter && d.ageD < 45) {
        const some = feedsToday.filter((f) => f.at > before + 200);
        const after = some[r.below(Math.max(1, some.length))];
        if (after !== undefined && r.uniform() < 0.6)
          moments.push({ at: after.at + 8, meal: "after" });
      }
      if (otter && d.ageD < 25) {
        const evening = feedsToday.find((f) => f.at > clock(1090));
        if (evening !== undefined) moments.push({ at: evening.at - 4, meal: "before" });
      }
    }
    for (const m of moments) if (m.at <= RECORDS_END) rows.push(reading(life, d, m, victim, r));
  }
  return rows;
}

function reading(
  life: Life,
  d: Life["days"][number],
  m: { readonly at: Minute; readonly meal: "before" | "after" | "unknown" },
  victim: Character,
  r: Random,
): DemoRow {
  const c = life.character;
  const otter = c.species === "sea otter";
  const start = instantOf(d.day, 0);
  const part = Math.min(1, Math.max(0, (m.at - start) / 1440));
  let mass = d.fromG + part * (d.toG - d.fromG);
  // What is in the gut: a little always, the last feed when it has just been eaten.
  const last = life.feeds.filter((f) => f.day === d.day && f.at <= m.at).at(-1);
  const sinceLast = last === undefined ? 999 : m.at - last.at;
  const lastG = last === undefined ? 0 : last.offeredG - last.refusedG;
  mass += lastG * 0.85 * Math.exp(-sinceLast / 90) + mass * 0.006 * r.normal();
  const wet = r.uniform();
  const coat = m.meal === "unknown" || wet > 0.93 ? (wet > 0.97 ? "wet" : "damp") : "dry";
  mass *= coat === "wet" ? 1.045 : coat === "damp" ? 1.02 : 1;

  const inRoom =
    c.id === victim.id
      ? d.ageD >= victim.trouble!.fromAge - 4 && d.ageD < victim.trouble!.toAge + 6
      : otter && d.sinceAdmissionD < 4 && d.ageD < 20;
  const voluntary = otter && d.ageD >= 105 && r.uniform() < 0.25 + (d.ageD - 105) / 60;
  const carried = !otter && d.ageD < 40 && r.uniform() < 0.35;
  const scaleId: ScaleId = carried
    ? "floor-1"
    : mass > (otter ? 5600 : 0)
      ? "platform-1"
      : inRoom
        ? "bench-2"
        : "bench-1";
  const method = carried
    ? "carried"
    : scaleId === "platform-1"
      ? voluntary
        ? "voluntary"
        : "platform"
      : "bucket";
  const tare =
    method === "carried"
      ? [61400, 74200, 68900, 80300][r.below(4)]! + 100 * r.below(9)
      : method === "bucket"
        ? (mass > 4000 ? [1120, 1265, 1120] : [412, 436, 655])[r.below(3)]!
        : 0;
  const blankTare = method === "bucket" && r.uniform() < 0.006;
  const step = method === "carried" ? 20 : scaleId === "platform-1" ? 5 : 1;
  const shown =
    (mass + (method === "carried" ? 0 : tare)) * driftOf(scaleId, m.at, victim) +
    (method === "carried" ? tare : 0) +
    scaleErrorG[scaleId] * r.normal();
  return {
    order: m.at,
    cells: [
      c.id,
      localText(m.at),
      String(Math.round(shown / step) * step),
      blankTare ? "" : String(tare),
      scaleId,
      method,
      coat,
      m.meal,
      blankTare ? "tare not written" : "",
    ],
  };
}

/** Checks with a known weight: weekly, each scale; the drifting one goes on failing until it is replaced. */
export function scaleCheckRows(lives: readonly Life[], seed: number): DemoTable {
  const victim = lives.find((l) => l.character.trouble?.kind === "scale drifts")!.character;
  const r = seededRandom(seed).split(9001);
  const first = Math.min(...lives.map((l) => l.character.admittedDay));
  const last = Math.max(...lives.map((l) => l.days.at(-1)!.day));
  const known: Readonly<Record<ScaleId, number>> = {
    "bench-1": 2000,
    "bench-2": 2000,
    "floor-1": 20000,
    "platform-1": 10000,
  };
  const rows: DemoRow[] = [];
  for (let day = first - 2; day <= last; day += 7)
    for (const scaleId of Object.keys(known) as ScaleId[]) {
      if (r.uniform() < 0.06) continue;
      // The platform was forgotten from the middle of June of the last season on.
      if (scaleId === "platform-1" && day > dayNumber(2025, 6, 14)) continue;
      const at = instantOf(day, 390 + r.below(20));
      const reading =
        known[scaleId] * driftOf(scaleId, at, victim) + 0.7 * scaleErrorG[scaleId] * r.normal();
      const step = scaleId === "floor-1" ? 20 : scaleId === "platform-1" ? 5 : 1;
      rows.push({
        order: at,
        cells: [
          scaleId,
          localText(at),
          String(known[scaleId]),
          String(Math.round(reading / step) * step),
        ],
      });
    }
  return { name: "scale_checks", columns: ["scale_id", "at", "known_g", "reading_g"], rows };
}
