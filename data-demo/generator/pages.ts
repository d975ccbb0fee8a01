import { seededRandom } from "../../src/core/random.js";
import { type Character, LAST_DAY } from "./cast.js";
import { civilDate, dayNumber, instantOf, localText } from "./clock.js";
import type { DemoRow, DemoTable } from "./demo-table.js";
import { type Life, ORDERS_FROM } from "./life.js";
import { outages } from "./weigh.js";

/** Everything but weighings and observations, as the pages have it. */
export function animalTable(lives: readonly Life[]): DemoTable {
  return {
    name: "animals",
    columns: [
      "animal_id",
      "name",
      "species",
      "sex",
      "birth_date_earliest",
      "birth_date_latest",
      "birth_date_basis",
      "admitted_at",
      "season",
      "outcome",
      "outcome_reason",
      "outcome_date",
      "notes",
    ],
    rows: lives.map(({ character: c, days }) => {
      const inCare = days.at(-1)!.day > LAST_DAY && c.birthDay + c.leavesAge > LAST_DAY + 1;
      const outcome = inCare ? "in care" : c.ending;
      const born = c.basis === "unknown" ? ["", ""] : bornBetween(c);
      return {
        order: instantOf(c.admittedDay, c.admittedMinute),
        cells: [
          c.id,
          c.name,
          c.species,
          c.sex,
          ...born,
          c.basis,
          localText(instantOf(c.admittedDay, c.admittedMinute)),
          c.season,
          outcome,
          reasons[outcome] ?? "",
          inCare ? "" : civilDate(days.at(-1)!.day),
          "",
        ],
      };
    }),
  };
}

const reasons: Readonly<Record<string, string>> = {
  released: "release conditions met",
  "long-term care": "authority decided against release",
  transferred: "space, to a partner nursery",
  died: "low birth mass, failing gut",
};

function bornBetween(c: Character): [string, string] {
  const latest = Math.min(c.birthDay + c.range[1], c.admittedDay);
  return [civilDate(c.birthDay - c.range[0]), civilDate(latest)];
}

/** Feeds as written: some refusals left blank, late seal feeds thrown to the whole group. */
export function feedTable(lives: readonly Life[], seed: number): DemoTable {
  const r = seededRandom(seed).split(4001);
  const rows: DemoRow[] = [];
  const group = new Map<string, { order: number; cells: string[] }>();
  for (const { character: c, feeds } of lives)
    for (const f of feeds) {
      const minute = (((f.at - 210) % 1440) + 1440) % 1440;
      const night = minute < 330;
      const month = Number(civilDate(f.day).slice(5, 7));
      const tired = c.season === "2022" && night && month >= 5 && month <= 6;
      const blank = r.uniform() < (tired ? 0.08 : 0.0004);
      const groupId = groupOf(c, f.day);
      if (groupId !== null && f.route === "free") {
        // Thrown to the group: one line for all, the grams added up.
        const key = `${groupId} ${f.day} ${Math.floor(minute / 60)}`;
        const known = group.get(key);
        if (known === undefined) {
          const cells = [
            "",
            groupId,
            localText(f.at),
            f.dietId,
            f.batchId,
            String(f.offeredG),
            String(f.refusedG),
            "free",
            "",
          ];
          const row = { order: f.at, cells };
          group.set(key, row);
          rows.push(row);
        } else {
          known.cells[5] = String(Number(known.cells[5]) + f.offeredG);
          known.cells[6] = String(Number(known.cells[6]) + f.refusedG);
        }
        continue;
      }
      rows.push({
        order: f.at,
        cells: [
          c.id,
          "",
          localText(f.at),
          f.dietId,
          f.batchId,
          String(f.offeredG),
          blank ? "" : String(f.refusedG),
          f.route,
          "",
        ],
      });
    }
  return {
    name: "feeds",
    columns: [
      "animal_id",
      "group_id",
      "at",
      "diet_id",
      "batch_id",
      "offered_g",
      "refused_g",
      "route",
      "notes",
    ],
    rows,
  };
}

/** Seals of 2022 and 2024 share a pool, and the thrown fish, at the end. */
export function groupOf(c: Character, day: number): string | null {
  if (c.species !== "harbour seal" || (c.season !== "2022" && c.season !== "2024")) return null;
  return day - c.birthDay >= 72 ? `pool-group-${c.season.slice(2)}` : null;
}

const orderers = ["the veterinarian", "the feeding lead", "the night lead"];

export function planTable(lives: readonly Life[], seed: number): DemoTable {
  const r = seededRandom(seed).split(4002);
  return {
    name: "plans",
    columns: [
      "animal_id",
      "from",
      "to",
      "diet_id",
      "g_per_feed",
      "feeds_per_day",
      "feed_times",
      "target_mass_g",
      "ordered_by",
    ],
    rows: lives.flatMap(({ character: c, plans, days }) =>
      plans.map((p) => {
        const from = Math.max(
          instantOf(p.fromDay, ORDERS_FROM),
          instantOf(c.admittedDay, c.admittedMinute + 20),
        );
        const mass = days.find((d) => d.day === p.fromDay)!.fromG;
        return {
          order: from,
          cells: [
            c.id,
            localText(from),
            p.toDay === null ? "" : localText(instantOf(p.toDay, ORDERS_FROM)),
            p.dietId,
            String(p.gPerFeed),
            String(p.times.length),
            p.times.map(clockText).join(" "),
            String(Math.round((mass * (c.species === "sea otter" ? 1.06 : 1.05)) / 10) * 10),
            orderers[r.below(3)]!,
          ],
        };
      }),
    ),
  };
}

const clockText = (minute: number) =>
  [Math.floor(minute / 60), minute % 60].map((n) => String(n).padStart(2, "0")).join(":");

export function housingTable(lives: readonly Life[]): DemoTable {
  const rows: DemoRow[] = [];
  for (const { character: c, days } of lives) {
    const last = days.at(-1)!.day;
    const moves: [number, string][] =
      c.species === "sea otter"
        ? [
            [c.admittedDay, "isolation room"],
            [c.admittedDay + 4, "nursery"],
            [c.birthDay + 60, "pool room"],
            [c.birthDay + 110, "outdoor pool"],
          ]
        : [
            [c.admittedDay, "seal ward"],
            [c.birthDay + 30, "seal pool"],
            [c.birthDay + 72, "outdoor pool"],
          ];
    const kept = moves.filter(
      ([from], i) => from >= c.admittedDay && from < last && (i === 0 || from > moves[i - 1]![0]),
    );
    kept.forEach(([from, place], i) => {
      const start = i === 0 ? instantOf(c.admittedDay, c.admittedMinute) : instantOf(from, 600);
      const next = kept[i + 1];
      rows.push({
        order: start,
        cells: [
          c.id,
          groupOf(c, from) ?? "",
          localText(start),
          next === undefined
            ? last > LAST_DAY
              ? ""
              : localText(instantOf(last, 720))
            : localText(instantOf(next[0], 600)),
          place,
        ],
      });
    });
  }
  return { name: "housing", columns: ["animal_id", "group_id", "from", "to", "place"], rows };
}

export function eventTable(): DemoTable {
  const row = (
    day: number,
    to: number | null,
    scope: string,
    kind: string,
    notes: string,
  ): DemoRow => ({
    order: instantOf(day, 480),
    cells: [
      localText(instantOf(day, 480)),
      to === null ? "" : localText(instantOf(to, 1080)),
      scope,
      kind,
      notes,
    ],
  });
  return {
    name: "events",
    columns: ["at", "to", "scope", "kind", "notes"],
    rows: [
      row(dayNumber(2022, 6, 1), null, "study", "staff", "two more people on the night shift"),
      ...outages.map((o) => row(o.from, o.to, "study", "outage", o.notes)),
      row(
        dayNumber(2024, 1, 8),
        null,
        "season",
        "protocol change",
        "otters: second formula mixture from this season on",
      ),
      row(
        dayNumber(2024, 7, 9),
        dayNumber(2024, 7, 15),
        "place",
        "illness in group",
        "cough in the seal ward",
      ),
    ],
  };
}
