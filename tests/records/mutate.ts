import type { Random } from "../../src/core/random.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { Study } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { makeWorkbook, serial, type Value } from "./make-workbook.js";
import { animalsCsv, inputs, settings, weighingsCsv } from "./small-study.js";

/** Small tables of every kind, to be spoilt. */
const tables: Readonly<Record<string, string>> = {
  "animals.csv": animalsCsv,
  "weighings.csv": weighingsCsv,
  "feeds.csv":
    'animal_id,group_id,at,diet_id,batch_id,offered_g,refused_g,route,notes\nP1,,2025-03-06 08:00,milk,b1,60,5,bottle,\n,pool,2025-03-06 09:00,fish,,200,,free,"a, b"\n',
  "diets.csv":
    "diet_id,name,kind,fat_pct,energy_kcal_per_g\nmilk,Milk,formula,7.1,1.06\nfish,Fish,solid,5,1.2\n",
  "batches.csv": "batch_id,diet_id,made_at,mass_g\nb1,milk,2025-03-06 06:00,400\n",
  "plans.csv":
    "animal_id,from,to,diet_id,g_per_feed,feed_times\nP1,2025-03-05,2025-03-10,milk,60,06:00 09:00\n",
  "observations.csv": "animal_id,at,kind,value,unit\nP1,2025-03-06 08:00,temperature,37.1,degC\n",
  "housing.csv": "animal_id,group_id,from,to,place\nP1,pool,2025-03-05,,pool 1\n",
  "events.csv": "at,to,scope,kind\n2025-03-06 08:00,,study,outage\n",
  "scale_checks.csv": "scale_id,at,known_g,reading_g\nb1,2025-03-06 08:00,1000,1002\n",
};

const bits = [
  '"',
  '""',
  ",",
  ";",
  "\t",
  "\n",
  "\r\n",
  "\r",
  "\0",
  "\ufeff",
  "=1+1",
  "@SUM(A1)",
  "__proto__",
  "constructor",
  "<script>alert(1)</script>",
  "\u202e",
  "\ud800",
  "9".repeat(40),
  "1e309",
  "-0",
  "NaN",
  "1,250",
  "0x1f",
  "2025-03-30 02:30",
  "2025-10-26 02:30",
  "31/02/2025",
  "4 lb 3 oz",
  "é".repeat(30),
  " ",
  "P1",
  "animal_id",
  "\\",
  "'",
  "\u2028",
  "|",
];

/** Spoils a text: cuts, doubles, exchanges, inserts; sometimes spoils its bytes as well. */
export function spoil(text: string, random: Random): Uint8Array {
  let t = text;
  const times = 1 + random.below(8);
  for (let i = 0; i < times; i++) {
    const at = random.below(t.length + 1);
    const to = Math.min(t.length, at + random.below(30));
    switch (random.below(7)) {
      case 0:
        t = t.slice(0, at) + t.slice(to);
        break;
      case 1:
        t = t.slice(0, to) + t.slice(at);
        break;
      case 2:
        t = t.slice(0, at) + bits[random.below(bits.length)]! + t.slice(at);
        break;
      case 3:
        t =
          t.slice(0, at) +
          String.fromCharCode(random.below(random.uniform() < 0.9 ? 256 : 65_536)) +
          t.slice(at + 1);
        break;
      case 4: {
        const lines = t.split("\n");
        t = random.shuffled(lines).join("\n");
        break;
      }
      case 5:
        t = t.replaceAll(",", bits[2 + random.below(4)]!);
        break;
      default:
        t =
          t.slice(0, at) +
          bits[random.below(bits.length)]!.repeat(1 + random.below(50)) +
          t.slice(at);
    }
    if (t.length > 20_000) t = t.slice(0, 20_000);
  }
  if (random.uniform() < 0.1) {
    const wide = new Uint8Array(2 * t.length);
    for (let i = 0; i < t.length; i++)
      wide.set([t.charCodeAt(i) & 255, t.charCodeAt(i) >> 8], 2 * i);
    return wide;
  }
  const bytes = new TextEncoder().encode(t);
  for (let i = random.below(3); i > 0 && bytes.length > 0; i--)
    bytes[random.below(bytes.length)] = random.below(256);
  return bytes;
}

/** One spoilt text file among good ones: read, built into series, its rows counted. */
export function tryText(random: Random): Study | "refused" {
  return read(spoiltStudy(random).files);
}

type Files = Readonly<Record<string, string | Uint8Array>>;

/** A study of which one text file is spoilt, and which; its heading mostly stands. */
export function spoiltStudy(random: Random): {
  readonly files: Files;
  readonly spoilt: string;
  readonly headKept: boolean;
} {
  const names = Object.keys(tables);
  const name = names[random.below(names.length)]!;
  const files: Record<string, string | Uint8Array> = {
    "study.json": JSON.stringify({
      ...settings,
      date_style: ["year-month-day", "day-month-year", "month-day-year"][random.below(3)],
      decimal: random.uniform() < 0.5 ? "point" : "comma",
    }),
    ...tables,
  };
  // A spoilt header mostly refuses the file; two thirds keep it, so that rows are put to the test.
  const text = tables[name]!;
  const head = text.indexOf("\n") + 1;
  const headKept = random.uniform() < 0.67;
  files[name] = headKept
    ? Buffer.concat([Buffer.from(text.slice(0, head)), spoil(text.slice(head), random)])
    : spoil(text, random);
  return { files, spoilt: name, headKept };
}

/** One workbook of odd sheets, sometimes with spoilt bytes. */
export function tryWorkbook(random: Random): Study | "refused" {
  const value = (): Value =>
    [
      null,
      "P1",
      "P2",
      2350,
      -1,
      1e300,
      0.25,
      "x",
      bits[random.below(bits.length)]!,
      { v: serial("2025-03-06 07:00"), z: "yyyy-mm-dd hh:mm" },
      { v: 0.3, z: "h:mm" },
      { v: 60, z: "dd/mm/yyyy" },
    ][random.below(12)]!;
  const sheet = (header: readonly string[]) => {
    const rows: Value[][] = Array.from({ length: random.below(4) }, () => [value()]);
    if (random.uniform() < 0.9) rows.push(header.slice());
    if (random.uniform() < 0.3) rows.push(header.map(() => value()));
    for (let r = random.below(12); r > 0; r--) rows.push(header.map(() => value()));
    const range = () => {
      const r = 1 + random.below(rows.length + 2);
      const c = random.below(4);
      return `${"ABCD"[c]}${r}:${"ABCDEF"[c + random.below(3)]}${r + random.below(3)}`;
    };
    return {
      rows: rows.length === 0 ? [[null]] : rows,
      merged: Array.from({ length: random.below(3) }, range),
      hiddenRows: [1 + random.below(5)],
      hidden: random.uniform() < 0.2,
    };
  };
  const bytes = makeWorkbook(
    {
      animals: sheet(["animal_id", "species", "sex", "birth_date_earliest"]),
      weighings: sheet(["animal_id", "at", "mass_g", "tare_g"]),
      Feeds: sheet(["animal_id", "at", "offered_g"]),
    },
    {
      format: (["xlsx", "ods", "biff8"] as const)[random.below(3)]!,
      date1904: random.uniform() < 0.3,
    },
  );
  if (random.uniform() < 0.4)
    for (let i = 1 + random.below(6); i > 0; i--)
      bytes[random.below(bytes.length)] = random.below(256);
  const cut = random.uniform() < 0.1 ? bytes.slice(0, random.below(bytes.length)) : bytes;
  const name = ["r.xlsx", "r.ods", "r.xls"][random.below(3)]!;
  return read({ "study.json": JSON.stringify(settings), ...tables, [name]: cut });
}

function read(files: Readonly<Record<string, string | Uint8Array>>): Study | "refused" {
  let study: Study;
  try {
    study = parseStudy(inputs(files));
  } catch (error) {
    // A user's mistake is refused in words; anything else is a fault of ours.
    if (error instanceof Error && error.name === "UsageError") return "refused";
    throw error;
  }
  for (const c of study.counts)
    if (c.rowsIn !== c.accepted + c.setAside) throw new Error(`rows lost in ${c.file}`);
  const accepted = Object.values(study.tables).reduce((n, t) => n + t.length, 0);
  const decisions = study.decisions?.length ?? 0;
  const rowsIn = study.counts.reduce((n, c) => n + c.rowsIn, 0);
  if (rowsIn !== accepted + decisions + study.setAside.length) throw new Error("rows lost");
  const series = buildSeries(study);
  checkNumbers(series);
  for (const a of series.animals)
    for (const d of a.daily)
      if (!(d.massG > 0) || !Number.isFinite(d.errorG)) throw new Error(`a day of ${d.massG} g`);
  if (({} as Record<string, unknown>)["polluted"] !== undefined)
    throw new Error("prototype changed");
  return study;
}

/** No number without a value anywhere in a result. */
export function checkNumbers(value: unknown): void {
  if (typeof value === "number" && !Number.isFinite(value)) throw new Error(`a number is ${value}`);
  if (typeof value === "object" && value !== null)
    for (const x of Object.values(value)) checkNumbers(x);
}
