import { formatMass } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { daysAxis, defaultSize, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import type { MassBand, NamedHistory } from "./contemporaries-chart.js";
import { endLabels, spanOf } from "./end-labels.js";
import { shortNames } from "./fit-text.js";
import { sizeOf } from "./growth-curve-chart.js";
import { niceDomain } from "./nice-domain.js";
import { palette, seriesScales } from "./palette.js";

export interface HistoriesData {
  /** The animals asked about: up to three in one plot, more in a plot each on one scale. */
  readonly histories: readonly (NamedHistory & { readonly animalId?: string })[];
  /** What others weigh by age, behind them; empty where they are too few. */
  readonly behind: readonly MassBand[];
  /** Who the others are: "17 sea otters of other seasons". */
  readonly behindAre: string;
  readonly dayTitle?: string;
}

/** More lines than these in one plot are told apart by nobody. */
const mostTogether = 3;

/** The masses of several animals by age over what others weigh: nine in ten of them and the middle half. */
export function historiesChart(data: HistoriesData, options: ChartOptions = {}): Chart {
  const { histories, behind } = data;
  const dayTitle = data.dayTitle ?? "Age (days)";
  const short = shortNames(
    histories.map((h) => h.name),
    150,
    12,
  );
  const own: ChartRow[] = histories.flatMap((h) =>
    h.points.map((p) => ({ day: p.day, mass: p.massG, animal: h.name, label: short.get(h.name)! })),
  );
  const last = Math.max(0, ...own.map((row) => Number(row["day"])));
  const band = behind.filter((b) => b.day <= last);
  const together = histories.length <= mostTogether;
  const body = together ? oneplot(data, own, band, dayTitle, options) : null;
  const plots = (columns: number, width: number) =>
    smallMultiples(data, own, band, dayTitle, { columns, width, short });
  const names = histories.map((h) => h.name);
  const banded = band.length === 0 ? "" : `, over 9 in 10 and the middle half of ${data.behindAre}`;
  const chart = makeChart(
    body ?? plots(3, 190),
    {
      title: options.title ?? "Mass by age",
      alt: `Mass in g against ${dayTitle.toLowerCase()} of ${count(histories.length, "animal")}${names.length === 0 ? "" : ` (${names.join(", ")})`}${banded}.`,
      caption: `n = ${count(histories.length, "animal")}, ${count(own.length, "daily mass", "daily masses")}${banded}.`,
    },
    own.map(({ day, mass, animal }) => ({ day: day!, mass: mass!, animal: animal! })),
  );
  const animals = Object.fromEntries(
    histories.flatMap((h) => (h.animalId === undefined ? [] : [[short.get(h.name)!, h.animalId]])),
  );
  if (together) return { ...chart, animals };
  const narrow = makeChart(plots(2, 120), { title: "", alt: chart.alt, caption: "" }).spec;
  const { title } = chart.spec;
  return { ...chart, animals, narrow: { ...narrow, title: title as object } };
}

function bandLayers(band: readonly MassBand[], x: VegaLiteSpec, y: VegaLiteSpec): VegaLiteSpec[] {
  if (band.length < 2) return [];
  const area = (from: string, to: string, look: object) => ({
    data: { values: band.map((b) => ({ ...b })) },
    mark: { type: "area", ...look },
    encoding: { x, y: { ...y, field: to }, y2: { field: from } },
  });
  const edge = { color: palette.usualLine, strokeWidth: 0.75 };
  return [
    area("low", "high", { color: palette.usual, line: edge }),
    area("lowerQuarter", "upperQuarter", { color: palette.usualMiddle }),
  ];
}

function oneplot(
  data: HistoriesData,
  own: readonly ChartRow[],
  band: readonly MassBand[],
  dayTitle: string,
  options: ChartOptions,
): VegaLiteSpec {
  const x = daysAxis("day", dayTitle);
  const y = numberAxis("mass", "Mass (g)");
  const labels = data.histories.map((h) =>
    String(own.find((r) => r["animal"] === h.name)?.["label"] ?? h.name),
  );
  const { colour, dash } = seriesScales(labels);
  const ends = data.histories.flatMap((h, i) => {
    const end = h.points.at(-1);
    return end === undefined
      ? []
      : [{ label: labels[i]!, x: end.day, y: end.massG, colour: colour.range[i]! }];
  });
  const field = { field: "label", type: "nominal", legend: null };
  return {
    ...defaultSize,
    ...sizeOf(options),
    layer: [
      ...bandLayers(band, x, y),
      {
        data: { values: own },
        mark: { type: "line", strokeWidth: 2 },
        encoding: {
          x,
          y,
          color: { ...field, scale: colour },
          strokeDash: { ...field, scale: dash },
        },
      },
      ...endLabels(ends, {
        range: spanOf([
          ...own.map((row) => Number(row["mass"])),
          ...band.flatMap((b) => [b.low, b.high]),
        ]),
        height: options.height ?? defaultSize.height,
        x,
        y,
      }),
    ],
  };
}

/** A plot for each animal, all on one scale, its newest mass beside the end of its line. */
function smallMultiples(
  data: HistoriesData,
  own: readonly ChartRow[],
  band: readonly MassBand[],
  dayTitle: string,
  look: {
    readonly columns: number;
    readonly width: number;
    readonly short: ReadonlyMap<string, string>;
  },
): VegaLiteSpec {
  const masses = [
    ...own.map((row) => Number(row["mass"])),
    ...band.flatMap((b) => [b.low, b.high]),
  ];
  const { domain } = niceDomain(masses, 3);
  const days = niceDomain(
    [...own, ...band].map((row) => Number(row["day"])),
    4,
  ).domain;
  const x = { ...daysAxis("day", dayTitle), scale: { domain: days, nice: false } };
  const y: VegaLiteSpec = {
    ...numberAxis("mass", "Mass (g)"),
    scale: { domain, nice: false, zero: false },
  };
  const plain = (axis: VegaLiteSpec, title: string | null) => ({ ...axis, title });
  const plot = (h: NamedHistory, at: number): VegaLiteSpec => {
    const name = look.short.get(h.name)!;
    const end = h.points.at(-1);
    // A short line's number stands after its end: before it there is only the axis.
    const early = end !== undefined && end.day < 0.6 * days[0] + 0.4 * days[1];
    const bottom = at + look.columns >= data.histories.length;
    const side = at % look.columns === 0;
    const px = plain(x, bottom ? dayTitle : null);
    const marks = { ...(y["axis"] as object), labels: side, ticks: side };
    const py = { ...plain(y, side ? "Mass (g)" : null), axis: marks };
    return {
      width: look.width,
      height: 110,
      title: { text: name, anchor: "start", fontSize: 12, fontWeight: 600, offset: 4 },
      layer: [
        ...bandLayers(band, px, py),
        {
          data: { values: own.filter((row) => row["animal"] === h.name) },
          mark: { type: "line", strokeWidth: 1.75, color: palette.measured },
          encoding: { x: px, y: py },
        },
        ...(end === undefined
          ? []
          : [
              {
                data: { values: [{ day: end.day, mass: end.massG, words: formatMass(end.massG) }] },
                mark: {
                  type: "text",
                  align: early ? "left" : "right",
                  dx: early ? 4 : 0,
                  dy: early ? 0 : -10,
                  fontWeight: 600,
                },
                encoding: { x: px, y: py, text: { field: "words" } },
              },
            ]),
      ],
    };
  };
  return { columns: look.columns, spacing: 14, concat: data.histories.map(plot) };
}
