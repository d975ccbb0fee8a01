import type { Chart, ChartRow } from "../../charts/chart.js";
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
const titles: Readonly<Record<string, string>> = { lower: "lower limit", upper: "upper limit" };
/** No plotted quantity is as large: such a number is a place on a time axis, in ms of the study's clock. */
const leastInstant = 1e11;

/**
 * The plotted numbers of a picture for whoever cannot see it, rounded as its sentences are:
 * by the interval's half width where there is one, never finer than the unit allows.
 *
 * @example
 * const chart = intervalChart({ title: "Gain", valueTitle: "Gain (g/d)", of: "season", intervalIs: "95 %", rows: [{ name: "2024", value: 61.23, lower: 55.1, upper: 67.4 }] });
 * pictureNumbers(chart, "Gain").rows[0] // ["2024", "61", "55", "67"]
 */
export function pictureNumbers(chart: Chart, caption: string): Table {
  const rows = chart.rows ?? [];
  const unit = unitOf(chart.spec);
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const columns = names.map((name) => {
    const numeric = rows.some((row) => typeof row[name] === "number");
    return {
      title: titles[name] ?? fieldWords(name),
      align: numeric ? ("number" as const) : ("text" as const),
      ...(name === "source" ? { asWritten: true } : {}),
    };
  });
  const plain = new Map(names.map((name) => [name, plainWriter(name, rows, unit)]));
  const cells = rows.map((row) => {
    const bounded = intervalWords(row, unit);
    return names.map((name): Cell => {
      const value = row[name] ?? null;
      if (typeof value !== "number") return value;
      return bounded.get(name) ?? plain.get(name)!(value);
    });
  });
  return table("numbers", caption, columns, cells);
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
  if (most > leastInstant) return (value: number) => formatInstant(value, "UTC");
  // Read off a scale or a thermometer, or whole by nature.
  const asRead = values.every((value) => Math.abs(value * 10 - Math.round(value * 10)) < 1e-9);
  const whole = values.every(Number.isInteger);
  const decimals = whole ? 0 : asRead || places.test(name) || most < 10 ? 1 : 0;
  return (value: number) =>
    value !== 0 && Math.abs(value) * 10 ** decimals < 0.5
      ? formatNumber(value, 2)
      : !asRead && !places.test(name) && unit !== ""
        ? formatAmount(Number(value.toFixed(decimals)), "", 3, unit)
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
