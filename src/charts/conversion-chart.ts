import { formatAmount } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { defaultSize, emptyLayer } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { endLabels, spanOf } from "./end-labels.js";
import { shortNames } from "./fit-text.js";
import { palette, seriesScales } from "./palette.js";

export interface ConversionRow {
  readonly animalId?: string;
  readonly name: string;
  /** Group by which colour and shape are given: species or season. */
  readonly group: string;
  /** Energy kept (eaten less what came up) a day. */
  readonly keptPerDay: number | null;
  readonly gainPerDay: number | null;
}

export interface ConversionData {
  readonly rows: readonly ConversionRow[];
  /** "Energy kept (kcal/d)". */
  readonly keptTitle: string;
  /** "Gain (g/d)". */
  readonly gainTitle: string;
  /** Name of one animal to point out. */
  readonly highlight?: string;
  /** What was averaged: "means of the last 14 days". */
  readonly method: string;
}

/**
 * Gain against what was kept, one point per animal: who keeps too little lies left, who
 * converts poorly lies low for what it keeps.
 */
export function conversionChart(data: ConversionData, options: ChartOptions = {}): Chart {
  const rows: ChartRow[] = data.rows.flatMap((r) =>
    r.keptPerDay === null || r.gainPerDay === null
      ? []
      : [{ name: r.name, group: r.group, kept: r.keptPerDay, gain: r.gainPerDay }],
  );
  const groups = [...new Set(data.rows.map((r) => r.group))];
  const labels = shortNames(groups, 260, 12);
  const scales = seriesScales([...labels.values()]);
  const plotted = rows.map((row) => ({
    ...row,
    label: labels.get(String(row["group"]))!,
    words: `${row["name"]}: gains ${formatAmount(Number(row["gain"]), "g/d")}, keeps ${formatAmount(Number(row["kept"]), "kcal/d")}`,
  }));
  const x = {
    field: "kept",
    type: "quantitative",
    title: data.keptTitle,
    scale: { zero: false, nice: true, padding: 8 },
  };
  const y = {
    field: "gain",
    type: "quantitative",
    title: data.gainTitle,
    scale: { zero: false, nice: true, padding: 8 },
  };
  const own = rows.filter((row) => row["name"] === data.highlight);
  const ownLabel = shortNames([data.highlight ?? ""], 200, 12).get(data.highlight ?? "");
  const layer: VegaLiteSpec[] = [
    rows.length === 0
      ? emptyLayer("no animal with both energy kept and gain")
      : {
          data: { values: plotted },
          mark: { type: "point", filled: true, size: 60, opacity: 0.9, aria: true },
          encoding: {
            x,
            y,
            color: { field: "label", type: "nominal", scale: scales.colour, legend: null },
            shape: { field: "label", type: "nominal", scale: scales.shape, legend: null },
            description: { field: "words" },
          },
        },
  ];
  if (own.length > 0) {
    layer.push(
      {
        data: { values: own },
        mark: { type: "point", size: 220, strokeWidth: 2, color: palette.ink, filled: false },
        encoding: { x, y },
      },
      {
        data: { values: own },
        mark: { type: "text", dy: -16, fontWeight: 600 },
        encoding: { x, y, text: { value: ownLabel } },
      },
    );
  }
  // Each group is named beside its animal that keeps most.
  const height = options.height ?? defaultSize.height;
  const names = groups.flatMap((group, i) => {
    const of = rows.filter((row) => row["group"] === group);
    if (of.length === 0 || groups.length < 2) return [];
    const most = of.reduce((a, b) => (Number(b["kept"]) > Number(a["kept"]) ? b : a));
    const [at, value] = [Number(most["kept"]), Number(most["gain"])];
    return [{ label: labels.get(group)!, x: at, y: value, colour: scales.colour.range[i]! }];
  });
  const range = spanOf(rows.map((row) => Number(row["gain"])));
  layer.push(...endLabels(names, { range, height, x, y }));
  const missing = data.rows.length - rows.length;
  const animals = Object.fromEntries(
    data.rows.flatMap((r) => (r.animalId === undefined ? [] : [[r.name, r.animalId]])),
  );
  const chart = makeChart(
    { width: options.width ?? 460, height, layer },
    {
      title: options.title ?? "Gain against energy kept",
      alt: `${data.gainTitle} against ${data.keptTitle}, one point for each of ${count(rows.length, "animal")}${own.length > 0 ? `; ${data.highlight} is ringed` : ""}.`,
      caption: `n = ${count(rows.length, "animal")}; ${data.method}.${missing > 0 ? ` ${missing} without energy kept or gain not shown.` : ""}`,
    },
    rows,
  );
  return { ...chart, animals };
}
