import type { Study } from "../../../src/records/study.js";
import type { StudySeries } from "../../../src/series/animal-series.js";
import { localText } from "../../../src/units/format-date.js";
import type { Cells, TrueStudy } from "./true-study.js";

/** A row as read: where it stands, and what it says in our own plain writing. */
interface ReadRow {
  readonly table: string;
  readonly place: string;
  readonly cells: Readonly<Record<string, string | number | null>>;
}

/** How each true row was read. */
export interface Matched {
  /** True rows that were not read as they are meant, with what came instead. */
  readonly differing: ReadonlyMap<string, string>;
  /** Places of accepted rows that are none of the true ones. */
  readonly extra: readonly string[];
  readonly lostAnimals: readonly string[];
}

/**
 * Finds each true row among the rows that were read: at its own place first,
 * else anywhere by what it says. `loose` holds tables whose clock times could
 * not be written.
 */
export function matchRows(
  truth: TrueStudy,
  places: ReadonlyMap<string, string>,
  study: Study,
  series: StudySeries,
  loose: ReadonlySet<string>,
): Matched {
  const read = readRows(study, series);
  const byPlace = new Map<string, ReadRow[]>();
  for (const row of read) {
    const key = `${row.table} ${row.place}`;
    byPlace.set(key, [...(byPlace.get(key) ?? []), row]);
  }
  const claimed = new Set<ReadRow>();
  const open: [string, string, Cells][] = [];
  for (const table of ["animals", "weighings", "feeds", "plans", "observations"])
    truth.tables[table]?.rows.forEach((cells, i) => {
      const id = `${table}:${i}`;
      if (!places.has(id)) return;
      const here = byPlace.get(`${table} ${places.get(id)}`) ?? [];
      const same = here.find((r) => !claimed.has(r) && saysTheSame(r, cells, loose.has(table)));
      if (same !== undefined) claimed.add(same);
      else open.push([id, table, cells]);
    });
  const differing = new Map<string, string>();
  for (const [id, table, cells] of open) {
    const other = read.find(
      (r) => r.table === table && !claimed.has(r) && saysTheSame(r, cells, loose.has(table)),
    );
    if (other !== undefined) {
      claimed.add(other);
      continue;
    }
    const here = (byPlace.get(`${table} ${places.get(id)}`) ?? []).filter((r) => !claimed.has(r));
    differing.set(id, here.length === 0 ? "not read" : JSON.stringify(here[0]!.cells));
  }
  const wrong = new Set([...differing.keys()].map((id) => places.get(id)));
  const known = new Set(study.tables.animals.map((a) => a.animalId));
  return {
    differing,
    extra: read.filter((r) => !claimed.has(r) && !wrong.has(r.place)).map((r) => r.place),
    lostAnimals: truth.tables["animals"]!.rows.map((a) => a["animal_id"]!).filter(
      (id) => !known.has(id),
    ),
  };
}

function readRows(study: Study, series: StudySeries): ReadRow[] {
  const { zone } = study.settings;
  const rows: ReadRow[] = [];
  const add = (
    table: string,
    origin: { readonly file: string; readonly line: number },
    cells: ReadRow["cells"],
  ) => rows.push({ table, place: `${origin.file}:${origin.line}`, cells });
  for (const { animal, weighings, feeds, signs, orders } of series.animals) {
    const id = animal.animalId;
    const at = (instant: number) => localText(instant, zone);
    for (const w of weighings)
      add("weighings", w.row.origin, {
        id,
        at: at(w.at),
        net: w.netG,
        coat: w.row.coat,
        meal: w.row.meal,
      });
    for (const f of feeds)
      add("feeds", f.row.origin, {
        id,
        at: at(f.at),
        diet: f.dietId,
        offered: f.offeredG,
        low: f.eatenLowG,
        high: f.eatenHighG,
      });
    for (const s of signs) add("observations", s.row.origin, { id, at: at(s.at), kind: s.kind });
    for (const l of orders.lines)
      add("plans", l, {
        id,
        at: at(l.from),
        diet: l.dietId,
        grams: l.gPerFeed,
        feeds: l.feedsOrdered,
        times: l.times.length,
      });
  }
  for (const a of study.tables.animals)
    add("animals", a.origin, {
      id: a.animalId,
      at: a.admittedAt === null ? null : localText(a.admittedAt, zone),
      name: a.name,
      sex: a.sex,
      born: a.birthDateEarliest,
      bornLatest: a.birthDateLatest,
    });
  return rows;
}

const near = (a: unknown, b: number | null) =>
  b === null || a === null ? a === b : Math.abs(Number(a) - b) <= 0.6;
const numberOf = (cell: string | undefined) =>
  cell === undefined || cell === "" ? null : Number(cell);

function saysTheSame({ table, cells }: ReadRow, row: Cells, loose: boolean): boolean {
  const at = row["at"] ?? row["from"] ?? row["admitted_at"]!;
  if (cells["id"] !== row["animal_id"]) return false;
  if (String(cells["at"]).slice(0, loose ? 10 : 16) !== at.slice(0, loose ? 10 : 16)) return false;
  switch (table) {
    case "animals":
      return cells["name"] === row["name"] && cells["sex"] === row["sex"] && sameBirth(cells, row);
    case "weighings":
      return (
        near(
          cells["net"],
          row["tare_g"] === "" ? null : Number(row["mass_g"]) - Number(row["tare_g"]),
        ) &&
        (loose || (cells["coat"] === row["coat"] && cells["meal"] === row["meal"]))
      );
    case "feeds": {
      const offered = Number(row["offered_g"]);
      const refused = numberOf(row["refused_g"]);
      return (
        cells["diet"] === row["diet_id"] &&
        near(cells["offered"], offered) &&
        near(cells["low"], refused === null ? 0 : offered - refused) &&
        near(cells["high"], refused === null ? offered : offered - refused)
      );
    }
    case "plans":
      return (
        (cells["diet"] === row["diet_id"] || row["diet_id"] === "nil by mouth") &&
        near(cells["grams"], numberOf(row["g_per_feed"])) &&
        near(cells["feeds"], numberOf(row["feeds_per_day"]))
      );
    default:
      return cells["kind"] === row["kind"];
  }
}

/** A birth date written as rough is a range about the true one. */
function sameBirth(cells: ReadRow["cells"], row: Cells): boolean {
  const earliest = row["birth_date_earliest"]!;
  if (cells["born"] === null || earliest === "") return (cells["born"] ?? "") === earliest;
  const latest = row["birth_date_latest"] || earliest;
  return String(cells["born"]) <= earliest && String(cells["bornLatest"]) >= latest;
}
