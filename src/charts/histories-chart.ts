import { count } from "../units/format-number.js";
import { daysAxis, defaultSize, numberAxis } from "./axes.js";
import { legendColumns } from "./axis-names.js";
import { type Chart, type ChartOptions, type ChartRow, makeChart } from "./chart.js";
import type { NamedHistory } from "./contemporaries-chart.js";
import { endLabels, roomForLabels, spanOf } from "./end-labels.js";
import { shortNames } from "./fit-text.js";
import { sizeOf } from "./growth-curve-chart.js";
import { palette, seriesScales } from "./palette.js";

export interface HistoriesData {
  /** Named lines, told apart by colour, dash and shape. */
  readonly histories: readonly NamedHistory[];
  /** Grey lines behind them. */
  readonly behind: readonly NamedHistory[];
  /** Who the grey ones are. */
  readonly behindAre: string;
  readonly dayTitle?: string;
}

/** The masses of several animals by age, over the grey lines of others. */
export function historiesChart(data: HistoriesData, options: ChartOptions = {}): Chart {
  const { histories, behind } = data;
  const dayTitle = data.dayTitle ?? "Age (days)";
  const rowsOf = (list: readonly NamedHistory[]): ChartRow[] =>
    list.flatMap((h) => h.points.map((p) => ({ day: p.day, mass: p.massG, animal: h.name })));
  const x = daysAxis("day", dayTitle);
  const y = numberAxis("mass", `Mass (g)`);
  const names = histories.map((h) => h.name);
  const labels = shortNames(names, 260, 12);
  const { colour, dash } = seriesScales([...labels.values()]);
  const width = options.width ?? defaultSize.width;
  const grey = rowsOf(behind);
  const own = rowsOf(histories);
  const plotted = own.map((row) => ({ ...row, label: labels.get(String(row["animal"]))! }));
  const legend = {
    symbolType: "stroke",
    symbolStrokeWidth: 3,
    symbolSize: 300,
    columns: legendColumns([...labels.values()], width, 12),
  };
  // Names beside more lines than these would lie over each other.
  const direct = histories.length <= 8;
  const ends = direct
    ? histories.flatMap((h, i) => {
        const last = h.points.at(-1);
        const label = (labels.get(h.name) ?? h.name).replace(/ \([^)]*\)$/, "");
        return last === undefined
          ? []
          : [{ label, x: last.day, y: last.massG, colour: colour.range[i]! }];
      })
    : [];
  return makeChart(
    {
      ...defaultSize,
      ...sizeOf(options),
      ...(direct ? { padding: roomForLabels(ends) } : {}),
      layer: [
        ...(grey.length === 0
          ? []
          : [
              {
                data: { values: grey },
                mark: { type: "line", strokeWidth: 0.8, opacity: 0.9, color: palette.grey },
                encoding: { x, y, detail: { field: "animal" } },
              },
            ]),
        {
          data: { values: plotted },
          mark: { type: "line", strokeWidth: 2 },
          encoding: {
            x,
            y,
            color: {
              field: "label",
              type: "nominal",
              title: null,
              scale: colour,
              legend: direct ? null : legend,
            },
            strokeDash: {
              field: "label",
              type: "nominal",
              title: null,
              scale: dash,
              legend: direct ? null : legend,
            },
          },
        },
        ...endLabels(ends, {
          range: spanOf([...own, ...grey].map((row) => Number(row["mass"]))),
          height: options.height ?? defaultSize.height,
          x,
          y,
        }),
      ],
    },
    {
      title: options.title ?? "Mass by age",
      alt: `Mass in g against ${dayTitle.toLowerCase()} of ${count(histories.length, "animal")}${names.length === 0 ? "" : ` (${names.join(", ")})`}${behind.length === 0 ? "" : `, over ${count(behind.length, "grey line")}: ${data.behindAre}`}.`,
      caption: `n = ${count(histories.length, "animal")}, ${own.length} daily masses.${behind.length === 0 ? "" : ` Grey: ${data.behindAre}, n = ${behind.length}.`}`,
    },
    own,
  );
}
