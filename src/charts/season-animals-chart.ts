import { formatAmount } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { emptyLayer } from "./axes.js";
import { axisLabels, axisOfNames } from "./axis-names.js";
import { type Chart, type ChartOptions, makeChart } from "./chart.js";
import { palette } from "./palette.js";

export interface SeasonOfAnimals {
  readonly season: string;
  /** Drawn with emphasis: the season asked about. */
  readonly asked: boolean;
  readonly animals: readonly {
    readonly id: string;
    readonly name: string;
    readonly value: number;
  }[];
  readonly mean: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface SeasonAnimalsData {
  readonly title: string;
  readonly valueTitle: string;
  readonly seasons: readonly SeasonOfAnimals[];
  /** What the line is: "mean at a common arrival, 95 % interval". */
  readonly intervalIs: string;
}

const rowHeight = 56;

/**
 * Every animal a dot in the row of its season, the mean with its interval beside
 * the dots, never instead of them.
 */
export function seasonAnimalsChart(data: SeasonAnimalsData, options: ChartOptions = {}): Chart {
  const labels = axisLabels(
    data.seasons.map((s) => s.season),
    160,
  );
  const label = (s: SeasonOfAnimals) => `${labels.get(s.season)!} (${s.animals.length})`;
  const shown = data.seasons.map(label);
  const y = axisOfNames("label", shown);
  const x = {
    field: "value",
    type: "quantitative",
    title: data.valueTitle,
    scale: { zero: false, nice: true, padding: 12 },
  };
  const dots = data.seasons.flatMap((s) =>
    s.animals.map((a) => ({
      label: label(s),
      animal: a.name,
      value: a.value,
      asked: s.asked,
      words: `${a.name}: ${formatAmount(a.value, "g/d")}, ${s.season}`,
    })),
  );
  const means = data.seasons
    .filter((s) => s.mean !== null)
    .map((s) => ({
      label: label(s),
      value: s.mean,
      lower: s.lower,
      upper: s.upper,
      asked: s.asked,
    }));
  const colour = {
    condition: { test: "datum.asked", value: palette.ink },
    value: palette.blue,
  };
  const layer =
    dots.length === 0
      ? [emptyLayer("no animal to show")]
      : [
          {
            data: { values: means.filter((m) => m.lower !== null && m.upper !== null) },
            mark: { type: "rule", strokeWidth: 2.5, yOffset: 11 },
            encoding: { y, x: { ...x, field: "lower" }, x2: { field: "upper" }, color: colour },
          },
          {
            data: { values: means },
            mark: { type: "tick", thickness: 3, size: 15, yOffset: 11 },
            encoding: { y, x, color: colour },
          },
          {
            data: { values: dots },
            mark: { type: "point", filled: true, size: 52, opacity: 0.75, yOffset: -7, aria: true },
            encoding: { y, x, color: colour, description: { field: "words" } },
          },
        ];
  const chart = makeChart(
    {
      width: options.width ?? 560,
      height: dots.length === 0 ? 60 : { step: rowHeight },
      layer,
    },
    {
      title: options.title ?? data.title,
      alt: `${data.title}: ${data.seasons.map((s) => `${s.season}, ${count(s.animals.length, "animal")}${s.mean === null ? "" : `, mean ${formatAmount(s.mean, "g/d")}`}`).join("; ")}.`,
      caption: `n = ${count(dots.length, "animal")}, each a dot; under the dots: ${data.intervalIs}.`,
    },
    dots.map(({ label: season, animal, value }) => ({ season, animal, value })),
  );
  const animals = Object.fromEntries(
    data.seasons.flatMap((s) => s.animals.map((a) => [a.name, a.id])),
  );
  return { ...chart, animals };
}
