import { count, formatFixed } from "../units/format-number.js";
import { defaultSize, emptyLayer } from "./axes.js";
import { axisLabels, axisOfNames, rowStep } from "./axis-names.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { palette, seriesScales } from "./palette.js";

export interface RationChartAnimal {
  readonly name: string;
  /** Grams of each diet; empty where none are given. */
  readonly parts: readonly { readonly diet: string; readonly g: number }[];
  /** Instead of a bar: "hold: ask the veterinarian". */
  readonly instead: string | null;
  /** Mean eaten on the last complete days, g/d; null where not known. */
  readonly eatenG: number | null;
}

export interface RationChartData {
  /** "2 May 2025". */
  readonly day: string;
  readonly animals: readonly RationChartAnimal[];
}

/** From one line of words behind a bar to the next, in pixels. */
const lineStep = 13;

/** The rations of a day, one bar an animal, its diets beside each other, with what it ate lately as a mark. */
export function rationChart(data: RationChartData, options: ChartOptions = {}): Chart {
  const { animals } = data;
  const labels = axisLabels(
    animals.map((a) => a.name),
    220,
  );
  const label = (a: RationChartAnimal) => labels.get(a.name)!;
  const rows: ChartRow[] = animals.flatMap((a) =>
    a.parts.map((p, order) => ({
      animal: a.name,
      label: label(a),
      diet: p.diet,
      grams: p.g,
      order,
    })),
  );
  const shown = animals.map(label);
  const y = axisOfNames("label", shown);
  const diets = [...new Set(rows.map((row) => String(row["diet"])))].sort();
  const { colour } = seriesScales(diets);
  const x = { field: "grams", type: "quantitative", title: "Grams a day", stack: "zero" };
  const layer: VegaLiteSpec[] = [
    {
      data: { values: rows },
      mark: { type: "bar", stroke: palette.paper, strokeWidth: 2, height: { band: 0.7 } },
      encoding: {
        y,
        x,
        order: { field: "order", type: "quantitative" },
        color: { field: "diet", type: "nominal", scale: colour, legend: null },
      },
    },
    {
      data: {
        values: animals
          .filter((a) => a.instead !== null)
          .map((a) => ({ label: label(a), words: a.instead })),
      },
      mark: { type: "text", align: "left", fontWeight: 600, dx: 6 },
      encoding: { y, x: { datum: 0, type: "quantitative" }, text: { field: "words" } },
    },
    {
      data: {
        values: animals
          .filter((a) => a.eatenG !== null)
          .map((a) => ({ label: label(a), eaten: a.eatenG })),
      },
      mark: { type: "tick", thickness: 3, color: palette.ink, height: { band: 0.95 } },
      encoding: { y, x: { field: "eaten", type: "quantitative", title: "Grams a day" } },
    },
  ];
  // What the parts of a bar are stands behind it, in their order and under one another: grams
  // first, so that a long name never hides them.
  const lines = animals.flatMap((a) =>
    a.instead !== null
      ? []
      : a.parts.map((p, at) => ({
          label: label(a),
          end: Math.max(
            a.parts.reduce((sum, each) => sum + each.g, 0),
            a.eatenG ?? 0,
          ),
          words: `${formatFixed(p.g, 0)} ${p.diet}`,
          dy: (at - (a.parts.length - 1) / 2) * lineStep,
        })),
  );
  for (const dy of new Set(lines.map((line) => line.dy)))
    layer.push({
      data: { values: lines.filter((line) => line.dy === dy) },
      mark: { type: "text", align: "left", dx: 8, dy, limit: 220 },
      encoding: { y, x: { ...x, stack: null, field: "end" }, text: { field: "words" } },
    });
  const given = animals.filter((a) => a.parts.length > 0);
  const totals = animals.map((a) =>
    a.instead === null
      ? `${a.name} ${a.parts.reduce((sum, p) => sum + p.g, 0)} g (${a.parts.map((p) => `${p.diet} ${p.g} g`).join(", ")})`
      : `${a.name}: ${a.instead}`,
  );
  return makeChart(
    {
      width: options.width ?? Math.min(defaultSize.width, 520),
      height: animals.length === 0 ? 60 : { step: rowStep(shown, 30) },
      layer: animals.length === 0 ? [emptyLayer("no animal in care")] : layer,
    },
    {
      title: options.title ?? `Rations of ${data.day}`,
      alt: `Rations of ${data.day}: ${totals.join("; ")}.`,
      caption: `n = ${count(animals.length, "animal")}, ${given.length} with an amount. Mark across a bar: mean eaten on the last complete feeding days (up to three).`,
    },
    rows.map(({ animal, diet, grams }) => ({ animal: animal!, diet: diet!, grams: grams! })),
  );
}
