import { formatAmount } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { daysAxis, defaultSize, emptyLayer, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { endLabels, spanOf } from "./end-labels.js";
import { sizeOf } from "./growth-curve-chart.js";
import { palette } from "./palette.js";

export interface AverageCurvePoint {
  readonly day: number;
  /** Mean over animals with the interval of that mean. */
  readonly average: number;
  readonly lower: number | null;
  readonly upper: number | null;
  /** The typical animal's. */
  readonly typical: number;
  /** The band in which most animals lie. */
  readonly animalsLower: number | null;
  readonly animalsUpper: number | null;
}

export interface AverageCurveData {
  readonly title: string;
  /** "mass" is given in g and shown in g or kg; "gain" in g/d. */
  readonly of: "mass" | "gain";
  readonly points: readonly AverageCurvePoint[];
  /** How many animals stand behind it. */
  readonly animals: number;
  /** What the pale band is: "80 % of animals (10th to 90th centile at each age)". */
  readonly bandIs: string;
  /** What the dark band is: "95 % interval of the averaged curve". */
  readonly intervalIs: string;
}

const names = { average: "averaged over animals", typical: "typical animal" } as const;

/**
 * The averaged curve of a group over the band of its animals, with the typical
 * animal's curve dashed beside it: three things that are easily taken for one
 * another.
 */
export function averageCurveChart(data: AverageCurveData, options: ChartOptions = {}): Chart {
  const unit = data.of === "mass" ? "g" : "g/d";
  const title = `${data.of === "mass" ? "Mass" : "Gain"} (${unit})`;
  const rows: ChartRow[] = data.points.map((p) => ({
    day: p.day,
    average: p.average,
    lower: p.lower,
    upper: p.upper,
    typical: p.typical,
    animalsLower: p.animalsLower,
    animalsUpper: p.animalsUpper,
  }));
  const lines = (["average", "typical"] as const).flatMap((curve) =>
    rows.map((row) => ({ day: row["day"]!, value: row[curve]!, curve: names[curve] })),
  );
  const x = daysAxis("day");
  const area = (low: string, high: string, colour: string, opacity: number): VegaLiteSpec => ({
    data: { values: rows.filter((row) => row[low] !== null && row[high] !== null) },
    mark: { type: "area", color: colour, opacity },
    encoding: { x, y: numberAxis(low, title), y2: { field: high } },
  });
  const height = data.of === "mass" ? defaultSize.height : 240;
  const last = data.points.at(-1);
  const ends =
    last === undefined
      ? []
      : [
          { label: names.average, x: last.day, y: last.average, colour: palette.ink },
          { label: names.typical, x: last.day, y: last.typical, colour: palette.usualInk },
        ];
  const curve = { field: "curve", type: "nominal", title: "Curve" };
  const domain = [names.average, names.typical];
  const layer: VegaLiteSpec[] =
    rows.length === 0
      ? [emptyLayer("no averaged curve to show")]
      : [
          area("animalsLower", "animalsUpper", palette.usual, 1),
          area("lower", "upper", palette.usualMiddle, 1),
          {
            data: { values: lines },
            mark: { type: "line", strokeWidth: 2.2 },
            encoding: {
              x,
              y: numberAxis("value", title),
              color: {
                ...curve,
                scale: { domain, range: [palette.ink, palette.usualLine] },
                legend: null,
              },
              strokeDash: {
                ...curve,
                scale: {
                  domain,
                  range: [
                    [1, 0],
                    [7, 3],
                  ],
                },
                legend: null,
              },
            },
          },
          ...endLabels(ends, {
            range: spanOf(
              data.points.flatMap((p) => [
                p.average,
                p.typical,
                p.animalsLower ?? p.average,
                p.animalsUpper ?? p.average,
              ]),
            ),
            height: options.height ?? height,
            x,
            y: numberAxis("value", title),
          }),
        ];
  return makeChart(
    {
      ...defaultSize,
      height: rows.length === 0 ? 80 : height,
      ...sizeOf(options),
      layer,
    },
    {
      title: options.title ?? data.title,
      alt: `${title} against age in days: ${describe(rows, unit)}.`,
      caption: `n = ${count(data.animals, "animal")}. Dark band: ${data.intervalIs}. Pale band: ${data.bandIs}.`,
    },
    rows,
  );
}

/** The row in which the two curves lie furthest apart, in words. */
function describe(rows: readonly ChartRow[], unit: string): string {
  const apart = (row: ChartRow) => Math.abs(Number(row["typical"]) - Number(row["average"]));
  let most = rows[0];
  for (const row of rows) if (apart(row) > apart(most!)) most = row;
  if (most === undefined) return "nothing to show";
  const words = (field: string) => formatAmount(Number(most[field]), unit);
  return `averaged curve and typical animal's curve, furthest apart at ${Math.round(Number(most["day"]))} days (${words("average")} against ${words("typical")}), over the band of most animals`;
}
