import { dayMs } from "../units/day-ms.js";
import { formatDate } from "../units/format-date.js";
import { formatAmount, formatMass } from "../units/format-measured.js";
import { count, formatFixed, formatNumber } from "../units/format-number.js";
import { aroundOneValue, defaultSize, plainNumber, timeAxis, yearsOf } from "./axes.js";
import {
  type Chart,
  type ChartOptions,
  type ChartRow,
  makeChart,
  type Reading,
  type VegaLiteSpec,
} from "./chart.js";
import { localNumber } from "./local-time.js";
import { measuredText } from "./measured-text.js";
import type { TimedMass, TimedNumber } from "./observations-chart.js";
import { bandLook, palette } from "./palette.js";

/** A number with the range it may lie in. */
export interface TimedRange {
  readonly at: number;
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/** Something written down: one mark in the row of its kind. */
export interface TimedMark {
  readonly at: number;
  readonly kind: string;
  readonly words: string | null;
}

export interface AnimalCourseData {
  readonly name: string;
  readonly zone: string;
  /** First and last instant shown, the same in every panel. */
  readonly from: number;
  readonly to: number;
  readonly masses: readonly TimedMass[];
  /** Gain over the window that ends there, g/d. */
  readonly gains: readonly TimedRange[];
  /** Eaten, g a day; a range without a value where refusals are unknown. */
  readonly intake: readonly TimedRange[];
  readonly planned: readonly TimedNumber[];
  readonly temperatures: readonly TimedNumber[];
  readonly marks: readonly TimedMark[];
  /** Order of the rows of marks; kinds not named come last, by name. */
  readonly kinds?: readonly string[];
  /** Kinds whose words are written beside their marks. */
  readonly worded?: readonly string[];
  /** The day that fits a change of gain best, and the days between which it may lie. */
  readonly change?: {
    readonly at: number;
    readonly earliest: number;
    readonly latest: number;
    /** What it is, for the caption. */
    readonly words: string;
  } | null;
}

/**
 * Mass, gain, intake, temperature and everything written down of one animal, in
 * panels over one time axis, the suspected change of gain drawn through all of
 * them as a band with a line.
 */
export function animalCourseChart(data: AnimalCourseData, options: ChartOptions = {}): Chart {
  const width = options.width ?? defaultSize.width;
  const time = (at: number) => localNumber(at, data.zone);
  const years = yearsOf([time(data.from), time(data.to)]);
  const x = (labelled: boolean): VegaLiteSpec => {
    const axis = timeAxis("at", `Date, ${years}`);
    const fixed = {
      ...axis,
      scale: { type: "utc", nice: false },
    };
    return labelled
      ? fixed
      : { ...fixed, title: null, axis: { labels: false, ticks: false, grid: true, tickCount: 6 } };
  };
  const change = data.change ?? null;
  // An invisible rule at either end sets the axis: a stated domain of dates, shared between
  // panels, collapses to one point where expressions are interpreted.
  const ends = (labelled: boolean): VegaLiteSpec => ({
    data: { values: [{ at: time(data.from) }, { at: time(data.to) }] },
    mark: { type: "rule", opacity: 0 },
    encoding: { x: x(labelled) },
  });
  const changeLayers = (labelled: boolean): VegaLiteSpec[] => {
    if (change === null) return [ends(labelled)];
    const inside = (at: number) => Math.min(Math.max(at, data.from), data.to);
    return [
      ends(labelled),
      {
        data: {
          values: [{ at: time(inside(change.earliest)), end: time(inside(change.latest)) }],
        },
        mark: { type: "rect", color: palette.alarmPale, opacity: 1 },
        encoding: { x: x(labelled), x2: { field: "end" } },
      },
      {
        data: { values: [{ at: time(inside(change.at)) }] },
        mark: { type: "rule", color: palette.alarm, strokeDash: [6, 3], strokeWidth: 1.5 },
        encoding: { x: x(labelled) },
      },
    ];
  };
  const rows: ChartRow[] = [];
  const panels: VegaLiteSpec[] = [];
  const panel = (
    what: string,
    title: string,
    height: number,
    values: readonly TimedRange[],
    more: {
      readonly line?: boolean;
      readonly zero?: boolean;
      readonly layers?: VegaLiteSpec[];
    } = {},
  ) => {
    if (values.length === 0) return;
    const plotted = values.map((v) => ({
      at: time(v.at),
      value: v.value,
      lower: v.lower,
      upper: v.upper,
      what,
    }));
    rows.push(...plotted);
    const known = plotted.filter((v) => v.value !== null);
    const ranged = plotted.filter((v) => v.lower !== null && v.upper !== null);
    const y = (field: string) => ({
      field,
      type: "quantitative",
      title,
      scale: {
        zero: more.zero ?? false,
        nice: true,
        ...aroundOneValue(known.map((v) => Number(v.value))),
      },
      axis: { tickCount: 4, labelExpr: plainNumber },
    });
    panels.push({
      width,
      height,
      layer: [
        ...changeLayers(false),
        ...(more.layers ?? []),
        ...(ranged.length === 0
          ? []
          : [
              {
                data: { values: ranged },
                mark:
                  what === "gain"
                    ? { type: "area", ...bandLook }
                    : { type: "rule", color: palette.grey, strokeWidth: 3 },
                encoding: { x: x(false), y: y("lower"), y2: { field: "upper" } },
              },
            ]),
        ...(more.zero === true
          ? [
              {
                data: { values: [{ value: 0 }] },
                mark: { type: "rule", color: palette.ink, strokeDash: [4, 3], strokeWidth: 1 },
                encoding: { y: y("value") },
              },
            ]
          : []),
        {
          data: { values: known },
          mark:
            more.line === false
              ? { type: "point", filled: true, size: 20, color: palette.measured }
              : {
                  type: "line",
                  strokeWidth: 1.5,
                  color: palette.measured,
                  ...(what === "gain"
                    ? {}
                    : { point: { filled: true, size: 18, color: palette.measured } }),
                },
          encoding: { x: x(false), y: y("value") },
        },
      ],
    });
  };
  const alone = (v: { readonly at: number; readonly value: number }): TimedRange => ({
    ...v,
    lower: null,
    upper: null,
  });
  panel(
    "mass",
    `Mass (g)`,
    150,
    data.masses.map((m) => alone({ at: m.at, value: m.massG })),
  );
  panel("gain", "Gain (g/d)", 100, data.gains, { zero: true });
  const plan = data.planned.map((p) => ({ at: time(p.at), value: p.value, what: "planned" }));
  rows.push(...plan);
  panel("intake", "Intake (g/d)", 100, data.intake, {
    layers:
      plan.length === 0
        ? []
        : [
            {
              data: { values: plan },
              mark: {
                type: "line",
                interpolate: "step",
                color: palette.plan,
                strokeWidth: 1.5,
              },
              encoding: {
                x: x(false),
                y: { field: "value", type: "quantitative", title: "Intake (g/d)" },
              },
            },
          ],
  });
  panel("temperature", "Temp. (°C)", 70, data.temperatures.map(alone), { line: false });
  const order = data.kinds ?? [];
  const present = [...new Set(data.marks.map((m) => m.kind))];
  const kinds = [
    ...order.filter((k) => present.includes(k)),
    ...present.filter((k) => !order.includes(k)).sort(),
  ];
  if (kinds.length > 0) {
    const seen = data.marks.map((m) => ({ at: time(m.at), kind: m.kind, words: m.words ?? "" }));
    rows.push(...seen.map((s) => ({ ...s, what: "written" })));
    const y = { field: "kind", type: "nominal", title: null, sort: kinds, axis: { grid: true } };
    const worded = seen.filter((s) => s.words !== "" && (data.worded ?? []).includes(s.kind));
    panels.push({
      width,
      height: { step: 20 },
      layer: [
        ...changeLayers(true),
        {
          data: { values: seen },
          mark: { type: "tick", thickness: 2, size: 13, color: palette.ink },
          encoding: { x: x(true), y },
        },
        ...(worded.length === 0
          ? []
          : [
              {
                data: { values: worded },
                mark: { type: "text", align: "left", dx: 4, fontSize: 11, limit: 130 },
                encoding: { x: x(true), y, text: { field: "words" } },
              },
            ]),
      ],
    });
  } else if (panels.length > 0) relabel(panels, x(true));
  const days = data.intake.length;
  const n = `${count(data.masses.length, "weighing")}, ${count(data.gains.length, "gain")}, ${count(days, "feeding day")}, ${count(data.temperatures.length, "temperature")}, ${count(data.marks.length, "entry", "entries")}`;
  const parts = [
    `n = ${n}.`,
    data.gains.length === 0
      ? ""
      : "Gain: slope over the 7 days that end there, band: 95 % interval.",
    plan.length === 0 ? "" : "Steps in the intake: ordered.",
    data.intake.some((v) => v.value === null)
      ? "Grey bars in the intake: refusals not written."
      : "",
    change === null ? "" : change.words,
  ];
  return makeChart(
    { vconcat: panels, spacing: 10, resolve: { scale: { x: "shared", y: "independent" } } },
    {
      title: options.title ?? `${data.name}: mass, gain, intake and what was written`,
      alt: `Records of ${data.name} on one time axis: ${n}${kinds.length > 0 ? ` (${kinds.join(", ")})` : ""}.${change === null ? "" : ` ${change.words}`}`,
      caption: parts.filter((p) => p !== "").join(" "),
    },
    rows,
    courseReadings(data),
  );
}

/** Day by day what every panel shows at that day, for all panels at once. */
function courseReadings(data: AnimalCourseData): Reading[] {
  const time = (at: number) => localNumber(at, data.zone);
  const dayOf = (at: number) => Math.floor(time(at) / dayMs);
  const days = new Map<number, { x: number; parts: string[] }>();
  const add = (at: number, words: string) => {
    const known = days.get(dayOf(at)) ?? { x: time(at), parts: [] };
    if (!known.parts.includes(words)) known.parts.push(words);
    days.set(dayOf(at), known);
  };
  for (const m of data.masses) add(m.at, `mass ${formatMass(m.massG)}`);
  for (const g of data.gains) {
    if (g.value !== null) add(g.at, `gain ${measuredText(g.value, g.lower, g.upper, "g/d")}`);
  }
  const ordered = new Map(data.planned.map((p) => [dayOf(p.at), p.value]));
  for (const d of data.intake) {
    const plan = ordered.get(dayOf(d.at));
    const of = plan === undefined ? "" : ` of ${formatAmount(plan, "g")} ordered`;
    if (d.value !== null) add(d.at, `eaten ${formatAmount(d.value, "g")}${of}`);
    else if (d.lower !== null && d.upper !== null)
      add(d.at, `eaten between ${formatFixed(d.lower, 0)} and ${formatFixed(d.upper, 0)} g${of}`);
  }
  for (const t of data.temperatures) add(t.at, `${formatNumber(t.value, 3)} °C`);
  const worded = new Set(data.worded ?? []);
  for (const m of data.marks)
    add(m.at, m.words === null || !worded.has(m.kind) ? m.kind : `${m.kind} (${m.words})`);
  return [...days.entries()]
    .sort(([a], [b]) => a - b)
    .map(([day, { x, parts }]) => ({
      x,
      words: `${formatDate(new Date(day * dayMs).toISOString().slice(0, 10))}: ${parts.join("; ")}`,
    }));
}

/** Gives the dates to the last panel where nothing was written. */
function relabel(panels: VegaLiteSpec[], x: VegaLiteSpec): void {
  const last = panels.pop() as { layer: { encoding: Record<string, unknown> }[] };
  panels.push({
    ...last,
    layer: last.layer.map((each) =>
      "x" in each.encoding ? { ...each, encoding: { ...each.encoding, x } } : each,
    ),
  });
}
