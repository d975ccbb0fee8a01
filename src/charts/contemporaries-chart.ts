import { formatMass } from "../units/format-measured.js";
import { count, formatFixed } from "../units/format-number.js";
import { daysAxis, defaultSize, domainOf, numberAxis } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { endLabels, roomForLabels, spanOf } from "./end-labels.js";
import { shortNames } from "./fit-text.js";
import { type MassPoint, sizeOf } from "./growth-curve-chart.js";
import { palette } from "./palette.js";

export interface NamedHistory {
  readonly name: string;
  readonly points: readonly MassPoint[];
}

/** What the others weigh at one age: the middle, the middle half and nine in ten of them. */
export interface MassBand {
  readonly day: number;
  readonly n: number;
  readonly low: number;
  readonly lowerQuarter: number;
  readonly middle: number;
  readonly upperQuarter: number;
  readonly high: number;
}

export interface ContemporariesData {
  readonly animal: NamedHistory;
  /** Drawn as dots at the ages where there are too few for a band. */
  readonly others: readonly NamedHistory[];
  /** By age, at ages with eight animals and more. */
  readonly band: readonly MassBand[];
  /** Who the others are: "other otters of the same study within 14 days of age". */
  readonly othersAre: string;
  readonly dayTitle?: string;
  /** True where the line is a model's: it has no weighings, so no points. */
  readonly isCurve?: boolean;
  /** Instead of the caption that counts weighings. */
  readonly caption?: string;
}

/**
 * One animal's mass by age over what its contemporaries weigh: nine in ten and
 * the middle half of them as two fills, the middle one dashed; their weighings as
 * dots at ages with fewer than eight.
 */
export function contemporariesChart(data: ContemporariesData, options: ChartOptions = {}): Chart {
  const { animal, band } = data;
  const dayTitle = data.dayTitle ?? "Age (days)";
  const banded = { from: band[0]?.day ?? 0, to: band.at(-1)?.day ?? -1 };
  const dots: ChartRow[] = data.others.flatMap((each) =>
    each.points
      .filter((p) => p.day < banded.from || p.day > banded.to)
      .map((p) => ({ day: p.day, mass: p.massG, animal: each.name })),
  );
  const own: ChartRow[] = animal.points.map((p) => ({ day: p.day, mass: p.massG }));
  const bandRows: ChartRow[] = band.map((b) => ({ ...b }));
  const masses = [...own, ...dots].map((row) => Number(row["mass"]));
  const all = [...masses, ...band.flatMap((b) => [b.low, b.high])];
  const x = daysAxis(
    "day",
    dayTitle,
    [...own, ...dots, ...bandRows].map((row) => Number(row["day"])),
  );
  const y = numberAxis("mass", "Mass (g)", domainOf(options, all));
  const area = (from: string, to: string, color: string): VegaLiteSpec => ({
    data: { values: bandRows },
    mark: { type: "area", color, line: { color: palette.usualLine, strokeWidth: 0.75 } },
    encoding: { x, y: { ...y, field: to }, y2: { field: from } },
  });
  const end = band.at(-1);
  const last = animal.points.at(-1);
  const height = options.height ?? defaultSize.height;
  const name = animal.name.replace(/ \([^)]*\)$/, "");
  const names = shortNames([name], 90, 12);
  const labels = [
    ...(end === undefined
      ? []
      : [
          { label: "9 in 10", x: end.day, y: end.high, colour: palette.usualInk },
          { label: "middle half", x: end.day, y: end.upperQuarter, colour: palette.usualInk },
        ]),
    ...(last === undefined
      ? []
      : [
          {
            label: names.get(name)!,
            x: last.day,
            y: last.massG,
            colour: palette.measured,
          },
        ]),
  ];
  const layer: VegaLiteSpec[] = [
    ...(band.length === 0
      ? []
      : [
          area("low", "high", palette.usual),
          area("lowerQuarter", "upperQuarter", palette.usualMiddle),
          {
            data: { values: bandRows },
            mark: { type: "line", color: palette.usualLine, strokeDash: [5, 3], strokeWidth: 1.25 },
            encoding: { x, y: { ...y, field: "middle" } },
          },
        ]),
    ...(dots.length === 0
      ? []
      : [
          {
            data: { values: dots },
            mark: { type: "point", filled: true, size: 9, color: palette.usualLine, opacity: 0.8 },
            encoding: { x, y },
          },
        ]),
    {
      data: { values: own },
      mark: {
        type: "line",
        strokeWidth: 2,
        color: palette.measured,
        ...(data.isCurve === true
          ? {}
          : { point: { filled: true, size: 16, color: palette.measured } }),
      },
      encoding: { x, y },
    },
    ...endLabels(labels, { range: spanOf(options.domain ?? all), height, x, y }),
  ];
  const bandAt = new Map(band.map((b) => [Math.round(b.day), b]));
  const reading = animal.points.map((p) => {
    const b = bandAt.get(Math.round(p.day));
    const others =
      b === undefined
        ? ""
        : `; contemporaries ${formatMass(b.middle)}, 9 in 10 between ${formatFixed(b.low, 0)} and ${formatFixed(b.high, 0)} (n ${b.n})`;
    return { x: p.day, words: `Day ${Math.round(p.day)}: ${formatMass(p.massG)}${others}` };
  });
  const shown =
    band.length > 0
      ? `band: 9 in 10 and the middle half of ${count(data.others.length, "animal")}, dashed the middle`
      : `dots: ${count(data.others.length, "animal")}`;
  return makeChart(
    { ...defaultSize, ...sizeOf(options), padding: roomForLabels(labels), layer },
    {
      title: options.title ?? `${animal.name}: mass against contemporaries`,
      alt:
        `Mass in g against ${dayTitle.toLowerCase()}: ${animal.name} as a line${data.isCurve === true ? "" : " with points"}` +
        `${last === undefined ? "" : `, last ${formatMass(last.massG)} on day ${Math.round(last.day)}`}, over ${shown}.`,
      caption:
        data.caption ??
        `n = ${count(animal.points.length, "weighing")} of ${animal.name}; ${shown} (${data.othersAre}).`,
    },
    own,
    reading,
  );
}
