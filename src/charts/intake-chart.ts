import { formatDate } from "../units/format-date.js";
import { formatAmount } from "../units/format-measured.js";
import { count, formatFixed } from "../units/format-number.js";
import { defaultSize, emptyLayer, plainNumber, timeAxis, yearsOf } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { dayNumber } from "./local-time.js";
import { palette } from "./palette.js";

export interface IntakeDayRow {
  /** Feeding day, YYYY-MM-DD. */
  readonly day: string;
  /** `null` where it is not known. */
  readonly gPerDay: number | null;
  /** Where refusals are unknown the eaten amount is a range. */
  readonly lowG?: number | null;
  readonly highG?: number | null;
  readonly kcalPerDay: number | null;
  readonly percentOfMass: number | null;
  readonly plannedG?: number | null;
}

export interface IntakeData {
  readonly name: string;
  readonly days: readonly IntakeDayRow[];
}

/** Eaten day by day in three panels over one time axis: g, kcal, per cent of body mass. */
export function intakeChart(data: IntakeData, options: ChartOptions = {}): Chart {
  const rows: ChartRow[] = data.days.map((d) => ({
    day: dayNumber(d.day),
    date: d.day,
    g: d.gPerDay,
    low: d.lowG ?? null,
    high: d.highG ?? null,
    kcal: d.kcalPerDay,
    percent: d.percentOfMass,
    planned: d.plannedG ?? null,
  }));
  const width = options.width ?? defaultSize.width;
  const years = yearsOf(data.days.map((d) => dayNumber(d.day)));
  const unseen = {
    data: { values: [rows[0], rows.at(-1)].flatMap((row) => (row ? [{ day: row["day"] }] : [])) },
    mark: { type: "rule", opacity: 0 },
  };
  const panel = (field: string, title: string, last: boolean, more: VegaLiteSpec[] = []) => {
    const known = rows.filter((row) => row[field] !== null);
    return {
      width,
      height: options.height ?? 120,
      layer: [
        // Days on which nothing is known have their room too, the newest before all.
        ...(known.length === 0 ? [] : [{ ...unseen, encoding: { x: dayAxis(last, years) } }]),
        ...more,
        known.length === 0
          ? emptyLayer("not known on any day")
          : {
              data: { values: known },
              mark: {
                type: "line",
                strokeWidth: 1.5,
                color: palette.measured,
                point: { filled: true, size: 14, color: palette.measured },
              },
              encoding: {
                x: dayAxis(last, years),
                y: {
                  field,
                  type: "quantitative",
                  title,
                  scale: { zero: true, nice: true },
                  axis: { tickCount: 4, labelExpr: plainNumber },
                },
              },
            },
      ],
    };
  };
  const ranges = rows.filter(
    (row) => row["low"] !== null && row["high"] !== null && row["low"] !== row["high"],
  );
  const planned = rows.filter((row) => row["planned"] !== null);
  const eatenMore: VegaLiteSpec[] = [];
  if (ranges.length > 0) {
    eatenMore.push({
      data: { values: ranges },
      mark: { type: "rule", strokeWidth: 3, color: palette.grey },
      encoding: {
        x: dayAxis(false, years),
        y: { field: "low", type: "quantitative", title: "g eaten per day" },
        y2: { field: "high" },
      },
    });
  }
  if (planned.length > 0) {
    eatenMore.push({
      data: { values: planned },
      mark: {
        type: "line",
        interpolate: "step-after",
        color: palette.plan,
      },
      encoding: {
        x: dayAxis(false, years),
        y: { field: "planned", type: "quantitative", title: "g eaten per day" },
      },
    });
  }
  const known = data.days.filter((d) => d.gPerDay !== null).length;
  return makeChart(
    {
      vconcat: [
        panel("g", "g eaten per day", false, eatenMore),
        panel("kcal", "kcal eaten per day", false),
        panel("percent", "eaten, % of body mass", true),
      ],
      spacing: 14,
      resolve: { scale: { x: "shared" } },
    },
    {
      title: options.title ?? `${data.name}: eaten`,
      alt: `Eaten by ${data.name} on ${count(data.days.length, "feeding day")} in three panels: grams, kilocalories and per cent of body mass.`,
      caption:
        `n = ${count(known, "feeding day")} on which what was eaten is known, of ${data.days.length}.` +
        `${ranges.length > 0 ? " Grey bars: range where refusals were not written down." : ""}` +
        `${planned.length > 0 ? " Steps: ordered." : ""}`,
    },
    rows,
    data.days.map((d) => ({ x: dayNumber(d.day), words: intakeWords(d) })),
  );
}

/** "20 Apr 2024: eaten 820 g of 1070 g ordered, 910 kcal, 28 % of body mass". */
function intakeWords(d: IntakeDayRow): string {
  const { gPerDay, lowG, highG, kcalPerDay, percentOfMass, plannedG } = d;
  const eaten =
    gPerDay !== null
      ? formatAmount(gPerDay, "g")
      : lowG != null && highG != null
        ? `between ${formatFixed(lowG, 0)} and ${formatFixed(highG, 0)} g`
        : "not known";
  const parts = [
    `eaten ${eaten}${plannedG == null ? "" : ` of ${formatAmount(plannedG, "g")} ordered`}`,
    ...(kcalPerDay === null ? [] : [formatAmount(kcalPerDay, "kcal")]),
    ...(percentOfMass === null ? [] : [`${formatAmount(percentOfMass, "%")} of body mass`]),
  ];
  return `${formatDate(d.day)}: ${parts.join(", ")}`;
}

/** Only the lowest panel carries dates. */
function dayAxis(labelled: boolean, years: string): VegaLiteSpec {
  const axis = timeAxis("day", `Feeding day, ${years}`);
  return labelled
    ? axis
    : { ...axis, title: null, axis: { labels: false, ticks: false, grid: true, tickCount: 6 } };
}
