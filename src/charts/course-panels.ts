import { dayMs } from "../units/day-ms.js";
import { count, formatFixed } from "../units/format-number.js";
import type { AnimalCourseData } from "./animal-course.js";
import type { VegaLiteSpec } from "./chart.js";
import type { CourseAxis } from "./course-axis.js";
import { type CoursePanel, courseValueAxis, type Field, panelTitle } from "./course-value-axis.js";
import { measureText } from "./measure-text.js";
import { measuredText } from "./measured-text.js";
import { bandLook, palette } from "./palette.js";

/** Gain over the days that end there, each with its interval, over what contemporaries gained. */
export function courseGainPanel(data: AnimalCourseData, axis: CourseAxis): CoursePanel | null {
  const rows = data.gains.flatMap((g) =>
    g.value === null ? [] : [{ ...g, at: axis.time(g.at), what: "gain" }],
  );
  if (rows.length === 0) return null;
  const band = (data.others?.gains ?? []).map((b) => ({ ...b, at: axis.time(b.at) }));
  const y = courseValueAxis(
    [
      0,
      ...rows.flatMap((r) => [r.value!, r.lower ?? r.value!, r.upper ?? r.value!]),
      ...band.flatMap((b) => [b.low, b.high]),
    ],
    3,
    90,
  );
  const last = rows.at(-1)!;
  const end = band.at(-1);
  return y.panel(`Gain over ${count(data.gainDays, "day")}, g/d`, axis, rows, [
    ...bandLayer(band.length < 2 ? [] : band, "low", "high", axis, y.of),
    ...axis.ground(false),
    zeroLine(axis, y.of),
    {
      data: { values: rows.filter((r) => r.lower !== null && r.upper !== null) },
      mark: { type: "rule", color: palette.grey, strokeWidth: 1 },
      encoding: { x: axis.x(false), y: y.of("lower"), y2: { field: "upper" } },
    },
    dots(rows, axis, y.of),
    ...y.labels(axis, [
      ...(end === undefined
        ? []
        : [{ label: `9 in 10 of them`, x: axis.to, y: end.high, colour: palette.usualInk }]),
      {
        label: measuredText(last.value!, last.lower, last.upper, "g/d").replace(" g/d", ""),
        x: axis.to,
        y: last.value!,
        colour: palette.measured,
      },
    ]),
  ]);
}

/** Eaten as bars from nothing, open where refusals were not written, under the steps of what was ordered. */
export function courseEatenPanel(data: AnimalCourseData, axis: CourseAxis): CoursePanel | null {
  if (data.intake.length === 0) return null;
  const half = 0.38 * dayMs;
  const bars = data.intake.map((d) => {
    const at = axis.time(d.at);
    return { ...d, at: at - half, end: at + half, what: "eaten" };
  });
  const known = bars.map((b) => ({ ...b, top: b.value ?? b.lower })).filter((b) => b.top !== null);
  const open = bars.filter((b) => b.value === null && b.lower !== null && b.upper !== null);
  // A step stands for its whole feeding day, and the newest goes on to the end of it.
  const plan = data.planned.flatMap((p, i) => {
    const at = axis.time(p.at) - dayMs / 2;
    const row = { at, value: p.value, what: "ordered" };
    return i === data.planned.length - 1
      ? [row, { ...row, at: Math.min(axis.to, at + dayMs) }]
      : [row];
  });
  const y = courseValueAxis(
    [0, ...bars.flatMap((b) => [b.value ?? 0, b.upper ?? 0]), ...plan.map((p) => p.value)],
    2,
    80,
  );
  const last = bars.at(-1)!;
  const eaten =
    last.value !== null
      ? formatFixed(last.value, 0)
      : last.lower !== null && last.upper !== null
        ? `${formatFixed(last.lower, 0)} to ${formatFixed(last.upper, 0)}`
        : null;
  const ordered = plan.at(-1);
  const what = ordered === undefined ? "Eaten, g/d" : "Eaten, g/d, against what was ordered";
  return y.panel(
    what,
    axis,
    [...data.intake.map((d) => ({ ...d, at: axis.time(d.at), what: "eaten" })), ...plan],
    [
      ...axis.ground(false),
      {
        data: { values: known },
        mark: { type: "rect", color: palette.soft },
        encoding: {
          x: axis.x(false),
          x2: { field: "end" },
          y: y.of("top"),
          y2: { datum: 0 },
        },
      },
      ...(open.length === 0
        ? []
        : [
            {
              data: { values: open },
              mark: {
                type: "rect",
                fill: "transparent",
                stroke: palette.ink,
                strokeDash: [2, 2],
                strokeWidth: 1,
              },
              encoding: {
                x: axis.x(false),
                x2: { field: "end" },
                y: y.of("lower"),
                y2: { field: "upper" },
              },
            },
          ]),
      ...(plan.length === 0
        ? []
        : [
            {
              data: { values: plan },
              mark: {
                type: "line",
                interpolate: "step-after",
                color: palette.plan,
                strokeWidth: 1.75,
              },
              encoding: { x: axis.x(false), y: y.of("value") },
            },
          ]),
      ...y.labels(axis, [
        ...(ordered === undefined
          ? []
          : [
              {
                label: `ordered ${formatFixed(ordered.value, 0)}`,
                x: axis.to,
                y: ordered.value,
                colour: palette.planInk,
              },
            ]),
        ...(eaten === null
          ? []
          : [
              {
                label: `eaten ${eaten}`,
                x: axis.to,
                y: last.value ?? last.lower ?? 0,
                colour: palette.measured,
              },
            ]),
      ]),
    ],
  );
}

export function courseTemperaturePanel(
  data: AnimalCourseData,
  axis: CourseAxis,
): CoursePanel | null {
  const rows = data.temperatures.map((t) => ({ ...t, at: axis.time(t.at), what: "temperature" }));
  if (rows.length === 0) return null;
  const usual = data.usualC ?? null;
  const y = courseValueAxis([...rows.map((r) => r.value), ...(usual ?? [])], 2, 48);
  const ends = [axis.from, axis.to].map((at) => ({ at, low: usual?.[0], high: usual?.[1] }));
  const outside = (r: { value: number }) =>
    usual !== null && (r.value < usual[0] || r.value > usual[1]);
  const off = rows.filter(outside);
  const last = rows.at(-1)!;
  return y.panel("Temperature, °C", axis, rows, [
    ...bandLayer(usual === null ? [] : ends, "low", "high", axis, y.of),
    ...axis.ground(false),
    dots(
      rows.filter((r) => !outside(r)),
      axis,
      y.of,
    ),
    ...(off.length === 0
      ? []
      : [
          {
            data: { values: off },
            mark: {
              type: "point",
              shape: "triangle-up",
              filled: true,
              size: 60,
              color: palette.alarm,
              opacity: 1,
            },
            encoding: { x: axis.x(false), y: y.of("value") },
          },
        ]),
    ...y.labels(axis, [
      ...(usual === null
        ? []
        : [
            {
              label: `usual ${formatFixed(usual[0], 1)} to ${formatFixed(usual[1], 1)}`,
              x: axis.to,
              y: usual[1],
              colour: palette.usualInk,
            },
          ]),
      { label: formatFixed(last.value, 1), x: axis.to, y: last.value, colour: palette.measured },
    ]),
  ]);
}

/** What was written down, a row for each kind, with the dates under it. */
export function courseWrittenPanel(data: AnimalCourseData, axis: CourseAxis): CoursePanel | null {
  if (data.marks.length === 0) return null;
  const order = data.kinds ?? [];
  const present = [...new Set(data.marks.map((m) => m.kind))];
  const kinds = [
    ...order.filter((k) => present.includes(k)),
    ...present.filter((k) => !order.includes(k)).sort(),
  ];
  const seen = data.marks.map((m) => ({
    at: axis.time(m.at),
    kind: m.kind,
    words: m.words ?? "",
  }));
  const y = {
    field: "kind",
    type: "nominal",
    title: null,
    scale: { domain: kinds },
    axis: {
      grid: true,
      domain: false,
      ticks: false,
      labelLimit: 110,
      // On a narrow screen the kinds stand over their rows: beside them they would halve the plots.
      ...(axis.narrow
        ? { labelAlign: "left", labelPadding: -2, labelBaseline: "line-bottom", labelOffset: -6 }
        : {}),
    },
  };
  const worded = axis.narrow
    ? []
    : uncovered(
        seen.filter((s) => s.words !== "" && (data.worded ?? []).includes(s.kind)),
        axis,
      );
  return {
    panel: {
      width: axis.width,
      height: { step: axis.narrow ? 27 : 17 },
      title: panelTitle("Written down"),
      layer: [
        ...axis.ground(true),
        {
          data: { values: seen },
          mark: { type: "tick", thickness: 2, size: 11, color: palette.ink },
          encoding: { x: axis.x(true), y },
        },
        ...(worded.length === 0
          ? []
          : [
              {
                data: { values: worded },
                mark: { type: "text", align: "left", dx: 4, fontSize: 11, limit: wordsLimit },
                encoding: { x: axis.x(true), y, text: { field: "words" } },
              },
            ]),
      ],
    },
    rows: seen.map((s) => ({ ...s, what: "written" })),
  };
}

const wordsLimit = 120;

/** Words that would run into the next ones of their row stay away: they are read off all the same. */
function uncovered<Row extends { at: number; kind: string; words: string }>(
  rows: readonly Row[],
  axis: CourseAxis,
): readonly Row[] {
  const perPixel = (axis.to - axis.from) / axis.width;
  return rows.filter((row) => {
    const width = Math.min(wordsLimit, measureText(row.words, 11, false)) + 8;
    return !rows.some(
      (o) => o.kind === row.kind && o.at > row.at && o.at < row.at + width * perPixel,
    );
  });
}

/** A panel without data is one line. */
export function courseAbsentPanel(words: string, axis: CourseAxis): VegaLiteSpec {
  return {
    width: axis.width,
    height: 1,
    view: { stroke: null },
    data: { values: [{}] },
    mark: { type: "text", align: "left", baseline: "top", color: palette.soft },
    encoding: { x: { value: 0 }, y: { value: 0 }, text: { value: words } },
  };
}

function bandLayer(
  values: readonly object[],
  low: string,
  high: string,
  axis: CourseAxis,
  y: Field,
): VegaLiteSpec[] {
  if (values.length === 0) return [];
  return [
    {
      data: { values },
      mark: { type: "area", ...bandLook },
      encoding: { x: axis.x(false), y: y(low), y2: { field: high } },
    },
  ];
}

function dots(values: readonly object[], axis: CourseAxis, y: Field): VegaLiteSpec {
  return {
    data: { values },
    mark: { type: "point", filled: true, size: 22, color: palette.measured, opacity: 1 },
    encoding: { x: axis.x(false), y: y("value") },
  };
}

function zeroLine(axis: CourseAxis, y: Field): VegaLiteSpec {
  return {
    data: { values: [axis.from, axis.to].map((at) => ({ at, value: 0 })) },
    mark: { type: "line", color: palette.grey, strokeWidth: 1 },
    encoding: { x: axis.x(false), y: y("value") },
  };
}
