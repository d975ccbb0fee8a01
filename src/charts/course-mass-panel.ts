import { formatMass } from "../units/format-measured.js";
import type { AnimalCourseData } from "./animal-course.js";
import type { VegaLiteSpec } from "./chart.js";
import type { CourseAxis } from "./course-axis.js";
import { type CoursePanel, courseValueAxis, type Field } from "./course-value-axis.js";
import type { EndLabel } from "./end-labels.js";
import { shortNames, wrapText } from "./fit-text.js";
import { palette } from "./palette.js";
import { withHalo } from "./with-halo.js";

const height = 250;

/**
 * Mass: contemporaries as two fills, what was expected of the animal over them,
 * its own weighings on top; the change, the gain before and after it and what is
 * missing are written where they are.
 */
export function courseMassPanel(data: AnimalCourseData, axis: CourseAxis): CoursePanel | null {
  if (data.masses.length === 0) return null;
  const { time, x } = axis;
  const { change, others, expected, missing } = data;
  const own = data.masses.map((m) => ({ at: time(m.at), value: m.massG, what: "mass" }));
  const band = (others?.masses ?? []).map((b) => ({ ...b, at: time(b.at) }));
  const dots = (others?.massDots ?? []).map((m) => ({ at: time(m.at), value: m.massG }));
  const course = (expected?.points ?? []).map((p) => ({ ...p, at: time(p.at), what: "expected" }));
  const mass = courseValueAxis(
    [
      ...own.map((m) => m.value),
      ...dots.map((d) => d.value),
      ...band.flatMap((b) => [b.low, b.high]),
      ...course.flatMap((p) => [
        p.value ?? Number.NaN,
        p.lower ?? Number.NaN,
        p.upper ?? Number.NaN,
      ]),
      ...(missing == null ? [] : [missing.fromG, missing.toG]),
    ],
    5,
    height,
  );
  const y = mass.of;
  const area = (values: readonly object[], from: string, to: string, look: object) => ({
    data: { values },
    mark: { type: "area", line: false, ...look },
    encoding: { x: x(false), y: y(to), y2: { field: from } },
  });
  const line = (values: readonly object[], field: string, look: object) => ({
    data: { values },
    mark: { type: "line", ...look },
    encoding: { x: x(false), y: y(field) },
  });
  const edge = { color: palette.usualLine, strokeWidth: 0.75 };
  const layer: VegaLiteSpec[] = [
    ...(band.length < 2
      ? []
      : [
          area(band, "low", "high", { color: palette.usual, line: edge }),
          area(band, "lowerQuarter", "upperQuarter", { color: palette.usualMiddle }),
          line(band, "low", edge),
        ]),
    ...axis.ground(false),
    ...(dots.length === 0
      ? []
      : [
          {
            data: { values: dots },
            mark: { type: "point", filled: true, size: 10, color: palette.usualLine },
            encoding: { x: x(false), y: y("value") },
          },
        ]),
    ...(course.length < 2
      ? []
      : [
          area(course, "lower", "upper", { color: palette.usualLine, fillOpacity: 0.35 }),
          line(course, "value", {
            color: palette.usualInk,
            strokeWidth: 1.5,
            strokeDash: [5, 3],
          }),
        ]),
    line(own, "value", {
      color: palette.measured,
      strokeWidth: 1.75,
      point: { filled: true, size: 20, color: palette.measured },
    }),
    ...bracket(data, axis, y),
    ...slopes(data, axis, y),
    ...(change == null ? [] : changeWords(data, axis)),
    ...mass.labels(axis, massLabels(data, axis), { dx: missing == null ? 6 : 14 }),
  ];
  return mass.panel("Mass, g", axis, [...own, ...course], layer);
}

function massLabels(data: AnimalCourseData, axis: CourseAxis): readonly EndLabel[] {
  const { expected, missing, others } = data;
  const at = axis.to;
  const own = data.masses.at(-1)!;
  const band = others?.masses.at(-1);
  const end = expected?.points.at(-1);
  const shown = data.name.replace(/ \([^)]*\)$/, "");
  const name = shortNames([shown], 90, 12).get(shown)!;
  return [
    ...(band === undefined
      ? []
      : [
          {
            label: axis.narrow ? "9 in 10" : `9 in 10 of ${others!.are}`,
            x: at,
            y: band.high,
            colour: palette.usualInk,
          },
        ]),
    ...(end?.value == null
      ? []
      : [{ label: expected!.words, x: at, y: end.value, colour: palette.usualInk }]),
    ...(missing == null
      ? []
      : [
          {
            label: missing.words.join("\n"),
            x: at,
            y: (missing.fromG + missing.toG) / 2,
            colour: palette.alarm,
          },
        ]),
    {
      label: axis.narrow ? formatMass(own.massG) : `${name} ${formatMass(own.massG)}`,
      x: at,
      y: own.massG,
      colour: palette.measured,
    },
  ];
}

/** What is missing, from what it weighs to what was expected, just right of the newest day. */
function bracket({ missing }: AnimalCourseData, axis: CourseAxis, y: Field): VegaLiteSpec[] {
  if (missing == null) return [];
  const look = { color: palette.alarm, strokeWidth: 1.75 };
  const tick = (value: number) => ({
    data: { values: [{ at: axis.to, value }] },
    mark: { type: "rule", ...look, xOffset: 3, x2Offset: 9 },
    encoding: { x: axis.x(false), x2: { field: "at" }, y: y("value") },
  });
  return [
    {
      data: { values: [{ at: axis.to, value: missing.fromG, end: missing.toG }] },
      mark: { type: "rule", ...look, xOffset: 8 },
      encoding: { x: axis.x(false), y: y("value"), y2: { field: "end" } },
    },
    tick(missing.fromG),
    tick(missing.toG),
  ];
}

/** Gain before and after, written under the days it is of. */
function slopes(data: AnimalCourseData, axis: CourseAxis, y: Field): readonly VegaLiteSpec[] {
  // On a narrow screen the numbers alone fit under their days.
  const words = (s: { words: string }) =>
    axis.narrow ? s.words.replace(/^\S+ | \(.*$/g, "") : s.words;
  const values = (data.slopes ?? []).map((s) => {
    const inside = data.masses.filter((m) => m.at >= s.from && m.at <= s.to);
    const middle = (Math.max(s.from, data.from) + s.to) / 2;
    // Under the lowest of the weighings that the words are as wide as.
    const near = inside.filter((m) => Math.abs(m.at - middle) < (data.to - data.from) / 7);
    const under = (near.length > 0 ? near : data.masses).map((m) => m.massG);
    return { at: axis.time(middle), value: Math.min(...under), words: words(s) };
  });
  if (values.length === 0) return [];
  return withHalo({
    data: { values },
    mark: { type: "text", baseline: "top", dy: 12 },
    encoding: { x: axis.x(false), y: y("value"), text: { field: "words" } },
  });
}

/** What the dashed line is, beside its upper end. */
function changeWords({ change, ...data }: AnimalCourseData, axis: CourseAxis): VegaLiteSpec[] {
  const at = Math.min(Math.max(change!.at, data.from), data.to);
  const late = (at - data.from) / (data.to - data.from) > 0.55;
  const lines = axis.narrow ? wrapText(change!.label[0] ?? "", 100, 12, true, 3) : change!.label;
  return lines.flatMap((words, i) =>
    withHalo({
      data: { values: [{ at: axis.time(at), words }] },
      mark: {
        type: "text",
        align: late ? "right" : "left",
        baseline: "top",
        dx: late ? -6 : 6,
        dy: 2 + 15 * i,
        color: palette.alarm,
        fontWeight: i === 0 || axis.narrow ? 600 : 400,
      },
      encoding: { x: axis.x(false), y: { value: 0 }, text: { field: "words" } },
    }),
  );
}
