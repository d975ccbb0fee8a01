import { count } from "../units/format-number.js";
import { aroundOneValue, defaultSize, plainNumber, timeAxis, yearsOf } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { localNumber } from "./local-time.js";
import { palette } from "./palette.js";

export interface TimedMass {
  readonly at: number;
  readonly massG: number;
}

export interface TimedObservation {
  readonly at: number;
  /** "vomit", "medication", "stool", ... one row of marks each. */
  readonly kind: string;
  /** What was written down. */
  readonly words: string | null;
}

export interface TimedNumber {
  readonly at: number;
  readonly value: number;
}

export interface ObservationsData {
  readonly name: string;
  readonly zone: string;
  readonly masses: readonly TimedMass[];
  readonly intake: readonly TimedNumber[];
  readonly temperatures: readonly TimedNumber[];
  readonly observations: readonly TimedObservation[];
  /** Days to mark through all panels, such as the opening of a flag. */
  readonly marks?: readonly { readonly at: number; readonly words: string }[];
}

/** Mass, intake, temperature and what was seen of one animal, on one time axis. */
export function observationsChart(data: ObservationsData, options: ChartOptions = {}): Chart {
  const time = (at: number) => localNumber(at, data.zone);
  const width = options.width ?? defaultSize.width;
  const years = yearsOf(
    [data.masses, data.intake, data.temperatures, data.observations]
      .flat()
      .map((each) => time(each.at)),
  );
  const kinds = [...new Set(data.observations.map((o) => o.kind))].sort();
  const x = (labelled: boolean): VegaLiteSpec => {
    const axis = timeAxis("at", `Date, ${years}`);
    return labelled
      ? axis
      : {
          ...axis,
          title: null,
          axis: { labels: false, ticks: false, grid: true, tickCount: 6 },
        };
  };
  const marks = (data.marks ?? []).map((m) => ({ at: time(m.at), words: m.words }));
  const markLayer = (labelled: boolean): VegaLiteSpec[] =>
    marks.length === 0
      ? []
      : [
          {
            data: { values: marks },
            mark: { type: "rule", color: palette.alarm, strokeDash: [6, 3], strokeWidth: 1.5 },
            encoding: { x: x(labelled) },
          },
        ];
  const numbers = (rows: readonly ChartRow[], title: string, height: number, line: boolean) => ({
    width,
    height,
    layer: [
      ...markLayer(false),
      {
        data: { values: rows },
        mark: line
          ? {
              type: "line",
              strokeWidth: 1.5,
              color: palette.measured,
              point: { filled: true, size: 18, color: palette.measured },
            }
          : { type: "point", filled: true, size: 20, color: palette.measured },
        encoding: {
          x: x(false),
          y: {
            field: "value",
            type: "quantitative",
            title,
            scale: {
              zero: false,
              nice: true,
              ...aroundOneValue(rows.map((row) => Number(row["value"]))),
            },
            axis: { tickCount: 4, labelExpr: plainNumber },
          },
        },
      },
    ],
  });
  const panels: VegaLiteSpec[] = [];
  const rows: ChartRow[] = [];
  const add = (
    what: string,
    values: readonly { at: number; value: number }[],
    title: string,
    height: number,
    line: boolean,
  ) => {
    if (values.length === 0) return;
    const plotted = values.map((v) => ({ at: time(v.at), value: v.value, what }));
    rows.push(...plotted);
    panels.push(numbers(plotted, title, height, line));
  };
  add(
    "mass",
    data.masses.map((m) => ({ at: m.at, value: m.massG })),
    `Mass (g)`,
    150,
    true,
  );
  add("intake", data.intake, "Intake (g/d)", 90, true);
  add("temperature", data.temperatures, "Temp. (°C)", 80, false);
  if (kinds.length > 0) {
    const seen = data.observations.map((o) => ({
      at: time(o.at),
      kind: o.kind,
      words: o.words ?? "",
    }));
    rows.push(...seen);
    panels.push({
      width,
      height: { step: 20 },
      layer: [
        ...markLayer(true),
        {
          data: { values: seen },
          mark: { type: "tick", thickness: 2, size: 13, color: palette.ink },
          encoding: {
            x: x(true),
            y: { field: "kind", type: "nominal", title: null, sort: kinds, axis: { grid: true } },
          },
        },
      ],
    });
  } else if (panels.length > 0) relabel(panels, x(true));
  return makeChart(
    { vconcat: panels, spacing: 12, resolve: { scale: { x: "shared", y: "independent" } } },
    {
      title: options.title ?? `${data.name}: mass, intake and observations`,
      alt: `Records of ${data.name} on one time axis: ${count(data.masses.length, "weighing")}, ${count(data.intake.length, "feeding day")}, ${count(data.temperatures.length, "temperature")}, ${count(data.observations.length, "observation")}${kinds.length > 0 ? ` (${kinds.join(", ")})` : ""}.`,
      caption:
        `n = ${count(data.masses.length, "weighing")}, ${count(data.intake.length, "feeding day")}, ${count(data.temperatures.length, "temperature")}, ${count(data.observations.length, "observation")}.` +
        `${marks.length > 0 ? ` Dashed: ${[...new Set(marks.map((m) => m.words))].join("; ")}.` : ""}`,
    },
    rows,
  );
}

/** Gives the dates to the last panel when no observations follow it. */
function relabel(panels: VegaLiteSpec[], x: VegaLiteSpec): void {
  const last = panels.pop() as { layer: { encoding: object }[] };
  panels.push({
    ...last,
    layer: last.layer.map((each) => ({ ...each, encoding: { ...each.encoding, x } })),
  });
}
