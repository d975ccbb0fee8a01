import type { Chart, ChartRow } from "../../charts/chart.js";
import { dayMs } from "../../units/day-ms.js";
import { formatInstant } from "../../units/format-date.js";
import { formatAmount, formatInterval } from "../../units/format-measured.js";
import { formatFixed, formatNumber } from "../../units/format-number.js";
import { fieldWords } from "./rows-table.js";
import { type Cell, type Table, table } from "./section.js";

/** Fields that an interval in the same row is about, the first that a row has. */
const estimated = ["value", "mass", "massG", "gain", "middle"] as const;
/** Places along an axis: no figures of their own. */
const places = /^(?:day|age|ageD|at|date|from|to|x)$/i;
/** Fields that readers have no word for. */
const titles: Readonly<Record<string, string>> = {
  lower: "lower limit",
  upper: "upper limit",
  low80: "80 %, from",
  high80: "80 %, to",
  low95: "95 %, from",
  high95: "95 %, to",
  t: "signed root of the rise in squares",
};
/** What the panels of an animal's course count in: their rows stand under one another. */
const unitsOf: Readonly<Record<string, string>> = {
  mass: "g",
  expected: "g",
  gain: "g/d",
  eaten: "g",
  ordered: "g",
  temperature: "°C",
};
/** No plotted quantity is as large: such a number is a place on a time axis, in ms of the study's clock. */
const leastInstant = 1e11;

/**
 * The plotted numbers of a picture for whoever cannot see it, rounded as its sentences are:
 * by the interval's half width where there is one, never finer than the unit allows.
 *
 * @example
 * const chart = intervalChart({ title: "Gain", valueTitle: "Gain (g/d)", of: "season", intervalIs: "95 %", rows: [{ name: "2024", value: 61.23, lower: 55.1, upper: 67.4 }] });
 * pictureNumbers(chart, "Gain").rows[0] // ["2024", "61", "55", "67"]
 * pictureNumbers(chart, "Gain").columns[1].title // "Gain (g/d)"
 */
export function pictureNumbers(chart: Chart, caption: string): Table {
  const rows = chart.rows ?? [];
  const unit = unitOf(chart.spec);
  const named = namedFields(chart.spec);
  const names = toldApart([...new Set(rows.flatMap((row) => Object.keys(row)))], rows);
  const columns = names.map((name) => {
    const numeric = rows.some((row) => typeof row[name] === "number");
    return {
      title: titles[name] ?? named.get(name) ?? fieldWords(name),
      align: numeric ? ("number" as const) : ("text" as const),
      ...(name === "source" ? { asWritten: true } : {}),
    };
  });
  const kinds = new Map(rows.map((row) => [kindOf(row), rows.filter(sameKind(row))]));
  const plain = new Map(
    [...kinds].map(([kind, of]) => [
      kind,
      new Map(names.map((name) => [name, plainWriter(name, of, unitsOf[kind] ?? unit)])),
    ]),
  );
  const cells = rows.map((row) => {
    const kind = kindOf(row);
    const bounded = intervalWords(row, unitsOf[kind] ?? unit);
    return names.map((name): Cell => {
      const value = row[name] ?? null;
      if (name === "what" && unitsOf[kind] !== undefined) return `${kind} (${unitsOf[kind]})`;
      if (typeof value !== "number") return value;
      return bounded.get(name) ?? plain.get(kind)!.get(name)!(value);
    });
  });
  return table("numbers", caption, columns, cells);
}

/** Which panel a row is of, where a picture has several. */
const kindOf = (row: ChartRow): string => (typeof row["what"] === "string" ? row["what"] : "");
const sameKind = (row: ChartRow) => (other: ChartRow) => kindOf(other) === kindOf(row);

/** The fields that say something: neither empty nor what another one says already. */
function toldApart(names: readonly string[], rows: readonly ChartRow[]): string[] {
  const said = (name: string) => JSON.stringify(rows.map((row) => row[name] ?? null));
  const seen = new Set<string>([JSON.stringify(rows.map(() => null))]);
  const days = names.includes("date") && names.includes("day") ? new Set(["date"]) : new Set();
  return names.filter((name) => {
    if (days.has(name) || seen.has(said(name))) return false;
    seen.add(said(name));
    return true;
  });
}

/** What the axes call a field, with its unit; a field under two names goes by its own. */
function namedFields(spec: unknown): ReadonlyMap<string, string> {
  const found = new Map<string, Set<string>>();
  const walk = (part: unknown): void => {
    if (Array.isArray(part)) for (const each of part) walk(each);
    if (typeof part !== "object" || part === null || Array.isArray(part)) return;
    const { field, title } = part as { field?: unknown; title?: unknown };
    if (typeof field === "string" && typeof title === "string")
      found.set(field, (found.get(field) ?? new Set()).add(title));
    for (const [key, value] of Object.entries(part))
      if (key !== "values" && key !== "datasets") walk(value);
  };
  walk(spec);
  return new Map(
    [...found].flatMap(([field, [title, ...more]]) => (more.length > 0 ? [] : [[field, title!]])),
  );
}

/** The estimate of a row and both its limits, rounded alike; empty where the row has no interval. */
function intervalWords(row: ChartRow, unit: string): ReadonlyMap<string, string> {
  const { lower, upper } = row;
  const about = estimated.find((name) => typeof row[name] === "number");
  if (about === undefined || typeof lower !== "number" || typeof upper !== "number")
    return new Map();
  // Nothing lies between equal limits: they are rounded as figures without an interval.
  if (upper <= lower) return new Map();
  const write = (x: number) => formatInterval(x, lower, upper, unit).value;
  return new Map([
    [about, write(row[about] as number)],
    ["lower", write(lower)],
    ["upper", write(upper)],
  ]);
}

/** How the bare numbers of a column are written: readings as they stand, computed ones rounded. */
function plainWriter(name: string, rows: readonly ChartRow[], unit: string) {
  const values = rows.flatMap((row) => {
    const value = row[name];
    return typeof value === "number" && Number.isFinite(value) ? [value] : [];
  });
  const most = Math.max(0, ...values.map(Math.abs));
  if (most > leastInstant) {
    const days = values.every((value) => value % dayMs === 0);
    return (value: number) => formatInstant(value, "UTC").replace(days ? / 00:00$/ : /$^/, "");
  }
  // Read off a scale or a thermometer, or whole by nature.
  const asRead = values.every((value) => Math.abs(value * 10 - Math.round(value * 10)) < 1e-9);
  const whole = values.every(Number.isInteger);
  const small = most > 0 && most < 1 ? 2 - Math.floor(Math.log10(most)) : 1;
  const decimals = whole ? 0 : asRead || places.test(name) ? 1 : most < 10 ? small : 0;
  return (value: number) =>
    !asRead && !places.test(name) && unit !== ""
      ? formatAmount(Number(value.toFixed(decimals)), "", 3, unit)
      : value !== 0 && Math.abs(value) * 10 ** decimals < 0.5
        ? formatNumber(value, 2)
        : formatFixed(value, decimals);
}

/** The unit of what is shown, from the title of its axis: "Gain (g/d)"; days along the bottom are none. */
function unitOf(spec: unknown): string {
  return titlesIn(spec).flatMap((title) => unitIn(title) ?? [])[0] ?? "";
}

function unitIn(title: string): string | null {
  const words = /\(([^()]+)\)$/.exec(title)?.[1] ?? /, (g|g\/d|%\/d|°C)$/.exec(title)?.[1];
  if (words === undefined || /^(?:d|h|days?|hours?)\b/.test(words)) return null;
  if (/^% of body mass a day$/.test(words)) return "%/d";
  return words.startsWith("%") && words !== "%/d" ? "%" : words;
}

function titlesIn(spec: unknown): string[] {
  if (Array.isArray(spec)) return spec.flatMap(titlesIn);
  if (typeof spec !== "object" || spec === null) return [];
  return Object.entries(spec).flatMap(([key, value]) =>
    key === "values" || key === "datasets"
      ? []
      : key === "title" && typeof value === "string"
        ? [value]
        : titlesIn(value),
  );
}
