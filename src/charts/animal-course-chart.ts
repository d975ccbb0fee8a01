import { civilDayOf } from "../units/calendar.js";
import { formatDays } from "../units/format-date.js";
import { count } from "../units/format-number.js";
import type { AnimalCourseData } from "./animal-course.js";
import {
  type Chart,
  type ChartOptions,
  type ChartText,
  makeChart,
  type VegaLiteSpec,
} from "./chart.js";
import { type CourseAxis, courseAxis } from "./course-axis.js";
import { courseMassPanel } from "./course-mass-panel.js";
import {
  courseAbsentPanel,
  courseEatenPanel,
  courseGainPanel,
  courseTemperaturePanel,
  courseWrittenPanel,
} from "./course-panels.js";
import { courseReadings } from "./course-readings.js";

type Look = Pick<CourseAxis, "width" | "room" | "narrow">;

/** Narrower than other pictures: what lines and bands are stands right of them. */
const wideLook: Look = { width: 500, room: 170, narrow: false };
const narrowLook: Look = { width: 214, room: 94, narrow: true };

/**
 * Mass over what was expected of the animal and what its contemporaries weigh,
 * gain, intake against the order, temperature and everything written down, in
 * panels over one time axis, the suspected change of gain drawn through all of
 * them as a band with a line. A panel without data is one line of words.
 */
export function animalCourseChart(data: AnimalCourseData, options: ChartOptions = {}): Chart {
  const { width = wideLook.width } = options;
  const wide = courseParts(data, { ...wideLook, width });
  const { title: _, ...narrow } = makeChart(courseParts(data, narrowLook).body, wordsOf(data)).spec;
  const { title } = options;
  const words = { ...wordsOf(data), ...(title === undefined ? {} : { title }) };
  return { ...makeChart(wide.body, words, wide.rows, courseReadings(data)), narrow };
}

function courseParts(data: AnimalCourseData, look: Look) {
  const axis = courseAxis(data, look);
  const mass = courseMassPanel(data, axis);
  const gain = courseGainPanel(data, axis);
  const eaten = courseEatenPanel(data, axis);
  const temperature = courseTemperaturePanel(data, axis);
  const written = courseWrittenPanel(data, axis);
  const all = [mass, gain, eaten, temperature, written].flatMap((p) => p ?? []);
  const absent = (words: string) => courseAbsentPanel(words, axis);
  const panels = [
    mass?.panel ?? absent("No weighing was written."),
    gain?.panel ?? absent("No gain could be computed."),
    eaten?.panel ?? absent("No feed was written."),
    temperature?.panel ?? absent("No temperature was taken."),
    ...(written === null ? [] : [written.panel]),
  ];
  if (written === null) relabel(panels, axis);
  return {
    body: {
      vconcat: panels,
      spacing: 8,
      resolve: { scale: { x: "shared", y: "independent" } },
    },
    rows: all.flatMap((p) => p.rows),
  };
}

/** What the picture shows, for its caption and for whoever cannot see it. */
function wordsOf(data: AnimalCourseData): ChartText {
  const n = `${count(data.masses.length, "weighing")}, ${count(data.gains.length, "gain")}, ${count(data.intake.length, "feeding day")}, ${count(data.temperatures.length, "temperature")}, ${count(data.marks.length, "entry", "entries")}`;
  const kinds = [...new Set(data.marks.map((m) => m.kind))].join(", ");
  const day = (at: number) => civilDayOf(at, data.zone);
  const { change, expected, missing, others } = data;
  const parts = [
    `${formatDays(day(data.from), day(data.to))}, n = ${n}. Daily masses; the gain is their slope.`,
    others == null || others.masses.length + others.massDots.length === 0
      ? ""
      : others.masses.length === 0
        ? `Blue dots: ${others.are} at the same age.`
        : `Blue: 9 in 10 and the middle half of ${others.are} at the same age.`,
    expected == null ? "" : `Dashed: ${expected.words}.`,
    data.intake.some((v) => v.value === null) ? "Dashed bars: refusals not written." : "",
    change == null ? "" : change.words,
  ];
  return {
    title: `${data.name}: mass, gain, eaten and what was written`,
    alt:
      `Records of ${data.name} on one time axis: ${n}${kinds === "" ? "" : ` (${kinds})`}.` +
      `${missing == null ? "" : ` ${missing.words.join(" ")}.`}${change == null ? "" : ` ${change.words}`}`,
    caption: parts.filter((p) => p !== "").join(" "),
  };
}

/** Gives the dates to the last panel that has an axis, where nothing was written. */
function relabel(panels: VegaLiteSpec[], axis: CourseAxis): void {
  const at = panels.map((panel) => Array.isArray(panel["layer"])).lastIndexOf(true);
  if (at < 0) return;
  const last = panels[at] as { layer: { encoding: Record<string, unknown> }[] };
  panels[at] = {
    ...last,
    layer: last.layer.map((each) => {
      // Each layer keeps its own field: labels have their place along the bottom in another.
      const { field } = (each.encoding["x"] ?? {}) as { readonly field?: string };
      return field === undefined
        ? each
        : { ...each, encoding: { ...each.encoding, x: { ...axis.x(true), field } } };
    }),
  };
}
