import { count } from "../units/format-number.js";
import { defaultSize, emptyLayer, timeAxis, yearsOf } from "./axes.js";
import { axisLabels, axisOfNames, rowStep } from "./axis-names.js";
import { type Chart, type ChartOptions, type ChartRow, makeChart } from "./chart.js";
import { dayNumber } from "./local-time.js";
import { palette } from "./palette.js";

export interface FlagDayRow {
  readonly name: string;
  /** Feeding day, YYYY-MM-DD. */
  readonly day: string;
  readonly status: "flagged" | "not flagged" | "not judged";
  /** Class of the strongest raised signal. */
  readonly class?: "statistical" | "danger" | "practice" | null;
}

export interface FlagsData {
  readonly rows: readonly FlagDayRow[];
}

const states = ["danger", "statistical", "practice", "not flagged", "not judged"] as const;

/** Which animal was flagged on which day, and by which class of signal. */
export function flagsChart(data: FlagsData, options: ChartOptions = {}): Chart {
  const rows: ChartRow[] = data.rows.map((row) => ({
    name: row.name,
    at: dayNumber(row.day),
    day: row.day,
    state: row.status === "flagged" ? (row.class ?? "statistical") : row.status,
  }));
  const names = [...new Set(data.rows.map((row) => row.name))];
  const labels = axisLabels(names, 210);
  const plotted = rows.map((row) => ({ ...row, label: labels.get(String(row["name"]))! }));
  const flagged = data.rows.filter((row) => row.status === "flagged").length;
  const scale = (range: readonly unknown[]) => ({ domain: states, range });
  return makeChart(
    {
      width: options.width ?? defaultSize.width,
      height:
        names.length === 0
          ? 60
          : { step: rowStep([...labels.values()], names.length > 30 ? 15 : 20) },
      layer: [
        rows.length === 0
          ? emptyLayer("no day was judged")
          : {
              data: { values: plotted },
              mark: { type: "point", filled: true, opacity: 1 },
              encoding: {
                x: timeAxis(
                  "at",
                  `Feeding day, ${yearsOf(data.rows.map((row) => dayNumber(row.day)))}`,
                ),
                y: axisOfNames("label", [...labels.values()]),
                color: {
                  field: "state",
                  type: "nominal",
                  title: null,
                  legend: { columns: 5 },
                  scale: scale([
                    palette.alarm,
                    palette.ink,
                    palette.planInk,
                    palette.grey,
                    palette.grey,
                  ]),
                },
                shape: {
                  field: "state",
                  type: "nominal",
                  title: null,
                  scale: scale(["diamond", "circle", "square", "circle", "cross"]),
                },
                size: {
                  field: "state",
                  type: "nominal",
                  title: null,
                  scale: { ...scale([90, 70, 60, 8, 14]), type: "ordinal" },
                },
              },
            },
      ],
    },
    {
      title: options.title ?? "Flags by animal and day",
      alt: `${count(flagged, "flagged animal-day")} among ${count(rows.length, "animal-day")} of ${count(names.length, "animal")}.`,
      caption: `n = ${count(rows.length, "animal-day")}, ${flagged} flagged. Not flagged is no statement that an animal is healthy.`,
    },
    rows,
  );
}
