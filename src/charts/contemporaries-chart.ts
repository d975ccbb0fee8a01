import { count, formatNumber } from "../units/format-number.js";
import { aroundOneValue, daysAxis, defaultSize, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { shortNames } from "./fit-text.js";
import { type MassPoint, sizeOf } from "./growth-curve-chart.js";
import { palette } from "./palette.js";

export interface NamedHistory {
  readonly name: string;
  readonly points: readonly MassPoint[];
}

export interface ContemporariesData {
  readonly animal: NamedHistory;
  readonly others: readonly NamedHistory[];
  /** Who the others are: "other otters of the same study within 14 days of age". */
  readonly othersAre: string;
  readonly dayTitle?: string;
  /** What the grey lines are called in the legend. Default "contemporaries". */
  readonly othersName?: string;
  /** Instead of the caption that counts weighings. */
  readonly caption?: string;
}

/** One animal's mass by age over the grey lines of its contemporaries. */
export function contemporariesChart(data: ContemporariesData, options: ChartOptions = {}): Chart {
  const { animal } = data;
  const others = evenly(data.others, mostLines);
  const dayTitle = data.dayTitle ?? "Age (days)";
  const title = `Mass (g)`;
  const who = {
    own: shortNames([animal.name], 260, 12).get(animal.name)!,
    others: data.othersName ?? "contemporaries",
  };
  const rowsOf = (history: NamedHistory, role: string): ChartRow[] =>
    history.points.map((p) => ({
      day: p.day,
      mass: p.massG,
      animal: history.name,
      who: role,
    }));
  const othersRows = others.flatMap((history) => rowsOf(history, who.others));
  const ownRows = rowsOf(animal, who.own);
  const numbersOf = (field: string) => [...ownRows, ...othersRows].map((row) => Number(row[field]));
  const x = daysAxis("day", dayTitle, numbersOf("day"));
  const y = numberAxis("mass", title, aroundOneValue(numbersOf("mass")));
  const names = othersRows.length === 0 ? [who.own] : [who.others, who.own];
  const both = <T>(grey: T, own: T): readonly T[] =>
    othersRows.length === 0 ? [own] : [grey, own];
  const colour = {
    field: "who",
    type: "nominal",
    title: null,
    legend: { symbolType: "stroke", symbolStrokeWidth: 3, symbolOpacity: 1, symbolSize: 300 },
    scale: { domain: names, range: both<string>(palette.grey, palette.vermilion) },
  };
  const layer: VegaLiteSpec[] = [];
  if (othersRows.length > 0) {
    layer.push({
      data: { values: othersRows },
      mark: { type: "line", strokeWidth: 1, opacity: 0.9 },
      encoding: { x, y, detail: { field: "animal" }, color: colour },
    });
  }
  layer.push({
    data: { values: ownRows },
    mark: { type: "line", strokeWidth: 2.5, point: { filled: true, size: 26 } },
    encoding: { x, y, color: colour },
  });
  const last = animal.points.at(-1);
  return makeChart(
    { ...defaultSize, ...sizeOf(options), layer },
    {
      title: options.title ?? `${animal.name}: mass against contemporaries`,
      alt:
        `Mass in g against ${dayTitle.toLowerCase()}: ${animal.name} as a thick line with points` +
        `${last === undefined ? "" : `, last ${formatNumber(last.massG, 4)} g on day ${Math.round(last.day)}`}, over ${count(others.length, "grey line")} of contemporaries.`,
      caption:
        data.caption ??
        `n = ${count(animal.points.length, "weighing")} of ${animal.name}; grey: ${count(others.length, "animal")}${others.length < data.others.length ? ` drawn of ${data.others.length}` : ""} (${data.othersAre}).`,
    },
    [...ownRows, ...othersRows],
  );
}

/** More grey lines than these would be one grey patch, and slow to draw. */
const mostLines = 60;

/** At most `most` of the items, evenly spaced, order kept. */
function evenly<T>(items: readonly T[], most: number): readonly T[] {
  if (items.length <= most) return items;
  return Array.from({ length: most }, (_, i) => items[Math.floor((i * items.length) / most)]!);
}
