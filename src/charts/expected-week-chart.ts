import { formatDate } from "../units/format-date.js";
import { formatMeasured } from "../units/format-measured.js";
import { count } from "../units/format-number.js";
import { defaultSize } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  titleLines,
  type VegaLiteSpec,
} from "./chart.js";
import { dayNumber } from "./local-time.js";
import { palette } from "./palette.js";

export interface ExpectedBand {
  /** Feeding day, YYYY-MM-DD. */
  readonly day: string;
  readonly massG: number;
  readonly lower80G: number;
  readonly upper80G: number;
  readonly lower95G: number;
  readonly upper95G: number;
}

export interface ExpectedWeekData {
  readonly name: string;
  /** Masses up to the day looked at. */
  readonly weighed: readonly { readonly day: string; readonly massG: number }[];
  readonly scenarios: readonly {
    /** "it goes on as in its last days". */
    readonly name: string;
    readonly days: readonly ExpectedBand[];
  }[];
  /** How the limits were found, for the caption. */
  readonly method: string;
}

/**
 * The weighings of the last weeks and the masses expected in the next days, one
 * panel for each scenario on the same scales: a line, 80 % limits dark, 95 % pale.
 */
export function expectedWeekChart(data: ExpectedWeekData, options: ChartOptions = {}): Chart {
  const day = (text: string) => dayNumber(text);
  const weighed = data.weighed.map((w) => ({
    at: day(w.day),
    mass: w.massG,
    what: "weighed",
  }));
  const colours = [palette.usualLine, palette.planInk];
  const x: VegaLiteSpec = {
    field: "at",
    type: "temporal",
    title: "Feeding day",
    scale: { type: "utc", padding: 8 },
    axis: { grid: true, labelOverlap: true, format: "%-d %b", tickCount: 4, labelFlush: false },
  };
  const y = (field: string): VegaLiteSpec => ({
    field,
    type: "quantitative",
    title: `Mass (g)`,
    scale: { zero: false, nice: true },
  });
  const rows: ChartRow[] = [...weighed];
  const width =
    Math.floor((options.width ?? defaultSize.width) / Math.max(1, data.scenarios.length)) - 40;
  // Without a scenario the weighings stand alone.
  const shown =
    data.scenarios.length > 0 ? data.scenarios : [{ name: "weighed; nothing expected", days: [] }];
  const panels = shown.map((s, i): VegaLiteSpec => {
    const bands = s.days.map((d) => ({
      at: day(d.day),
      mass: d.massG,
      low80: d.lower80G,
      high80: d.upper80G,
      low95: d.lower95G,
      high95: d.upper95G,
      what: s.name,
    }));
    rows.push(...bands);
    const color = colours[i % colours.length]!;
    const area = (low: string, high: string, opacity: number) => ({
      data: { values: bands },
      mark: { type: "area", color, opacity },
      encoding: { x, y: y(low), y2: { field: high } },
    });
    return {
      width,
      height: options.height ?? 220,
      title: { text: s.name, fontSize: 12, fontWeight: 600, anchor: "start", offset: 6 },
      layer: [
        area("low95", "high95", 0.16),
        area("low80", "high80", 0.28),
        {
          data: { values: bands },
          mark: { type: "line", color, strokeWidth: 2, strokeDash: [6, 3] },
          encoding: { x, y: y("mass") },
        },
        {
          data: { values: weighed },
          mark: {
            type: "line",
            color: palette.ink,
            strokeWidth: 1.2,
            point: { filled: true, size: 22, color: palette.ink },
          },
          encoding: { x, y: y("mass") },
        },
      ],
    };
  });
  const last = data.scenarios.map((s) => {
    const end = s.days.at(-1);
    return end === undefined
      ? ""
      : `${s.name}: ${formatMeasured({ value: end.massG, unit: "g", interval: { lower: end.lower95G, upper: end.upper95G, level: 0.95 } })} on ${formatDate(end.day)}`;
  });
  const title = options.title ?? `${data.name}: the next days`;
  const shared = { spacing: 20, resolve: { scale: { x: "shared", y: "shared" } } };
  const chart = makeChart(
    { hconcat: panels, ...shared },
    {
      title,
      alt: `Weighings of ${data.name} and what is expected. ${last.join("; ")}.`,
      caption:
        data.scenarios.length === 0
          ? `n = ${count(weighed.length, "weighing")} shown.`
          : `n = ${count(weighed.length, "weighing")} shown. Dots: weighed. Dashed: expected; dark band 80 %, pale band 95 % for a single weighing. ${data.method}`,
    },
    rows,
  );
  // Side by side they would be wider than a narrow screen: there they stand below each other.
  const { hconcat: _, ...look } = chart.spec;
  const narrow = { ...look, vconcat: panels, title: { text: titleLines(title, narrowTitle) } };
  return { ...chart, narrow };
}

/** Room for a title on a narrow screen, in pixels. */
const narrowTitle = 330;
