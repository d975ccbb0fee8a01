import { formatInterval } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { defaultSize, emptyLayer } from "./axes.js";
import { axisLabels, axisOfNames, rowStep } from "./axis-names.js";
import { type Chart, type ChartOptions, type ChartRow, makeChart } from "./chart.js";
import { palette } from "./palette.js";

export interface IntervalRow {
  /** Where one row is an animal: its id. */
  readonly animalId?: string;
  readonly name: string;
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly n?: number;
}

export interface IntervalData {
  /** What is shown: "Mean gain by season". */
  readonly title: string;
  /** Axis title with its unit: "Mean gain (g/d)". */
  readonly valueTitle: string;
  readonly rows: readonly IntervalRow[];
  /** What the bars are: "95 % interval of the mean". */
  readonly intervalIs: string;
  /** Where nothing differs, for differences: 0. */
  readonly reference?: number;
  /** "given": as the rows come; "value": sorted by value, largest on top. */
  readonly order?: "given" | "value";
  /** What one row is: "season". */
  readonly of: string;
  /** The same for several, where an "s" does not make it. */
  readonly ofMany?: string;
}

/** Room for a name at the side, in pixels; longer names go on in a second line. */
const labelWidth = 220;

/**
 * Values with their intervals, one line each: seasons compared, or (sorted by
 * value) the animals of a mixed model as a caterpillar.
 */
export function intervalChart(data: IntervalData, options: ChartOptions = {}): Chart {
  const known = data.rows.filter((row) => row.value !== null);
  const sorted =
    data.order === "value" ? [...known].sort((a, b) => b.value! - a.value!) : [...known];
  const counts = (row: IntervalRow) => (row.n === undefined ? "" : ` (n = ${row.n})`);
  const labels = axisLabels(
    sorted.map((row) => row.name),
    labelWidth,
  );
  const rows: ChartRow[] = sorted.map((row) => ({
    name: `${row.name}${counts(row)}`,
    value: row.value,
    lower: row.lower,
    upper: row.upper,
  }));
  const shown = sorted.map((row) => `${labels.get(row.name)!}${counts(row)}`);
  const plotted: ChartRow[] = rows.map((row, at) => ({ ...row, label: shown[at]! }));
  const y = axisOfNames("label", shown);
  const x = {
    field: "value",
    type: "quantitative",
    title: data.valueTitle,
    scale: {
      zero: false,
      ...(options.domain === undefined
        ? { nice: true, padding: 10 }
        : { nice: true, domain: options.domain }),
    },
  };
  const step = rowStep(shown, rows.length > 25 ? 17 : 26);
  const layer = [
    ...(data.reference === undefined || rows.length === 0
      ? []
      : [
          {
            data: { values: [{ value: data.reference }] },
            mark: { type: "rule", color: palette.ink, strokeDash: [4, 3] },
            encoding: { x },
          },
        ]),
    {
      data: { values: plotted.filter((row) => row["lower"] !== null && row["upper"] !== null) },
      mark: { type: "rule", strokeWidth: 2, color: palette.measured },
      encoding: { y, x: { ...x, field: "lower" }, x2: { field: "upper" } },
    },
    rows.length === 0
      ? emptyLayer(`no ${data.of} to show`)
      : {
          data: { values: plotted },
          mark: { type: "point", filled: true, size: 60, color: palette.measured, opacity: 1 },
          encoding: { y, x },
        },
  ];
  const unit = /\(([^()]+)\)$/.exec(data.valueTitle)?.[1] ?? "";
  const missing = data.rows.length - known.length;
  const animals = Object.fromEntries(
    sorted.flatMap((row, at) => (row.animalId === undefined ? [] : [[shown[at]!, row.animalId]])),
  );
  const chart = makeChart(
    {
      width: options.width ?? Math.min(defaultSize.width, 520),
      height: rows.length === 0 ? 60 : { step },
      layer,
    },
    {
      title: options.title ?? data.title,
      alt: `${data.title}: ${known.length === 0 ? `no ${data.of} to show` : known.map((row) => `${row.name} ${shownValue(row, unit)}`).join("; ")}.`,
      caption: `${count(known.length, data.of, data.ofMany)}; bars: ${data.intervalIs}.${missing > 0 ? ` Not defined for ${missing}.` : ""}`,
    },
    rows,
  );
  return Object.keys(animals).length === 0 ? chart : { ...chart, animals };
}

/** "41 (35 to 47)"; the unit stands in the title. */
function shownValue({ value, lower, upper }: IntervalRow, unit: string): string {
  const text = formatInterval(value!, lower, upper, unit);
  return lower === null || upper === null ? text.value : `${text.value} (${text.range})`;
}
