import { dayMs } from "../units/day-ms.js";
import type { AnimalCourseData } from "./animal-course.js";
import { timeAxis } from "./axes.js";
import type { VegaLiteSpec } from "./chart.js";
import { localNumber } from "./local-time.js";
import { palette } from "./palette.js";

/** What all panels of one animal share: the time along the bottom, and the change drawn through them. */
export interface CourseAxis {
  readonly width: number;
  /** Pixels for words right of the plots. */
  readonly room: number;
  /** On a narrow screen: fewer words in the plots. */
  readonly narrow: boolean;
  /** First and last time shown, as the axis has them. */
  readonly from: number;
  readonly to: number;
  readonly time: (at: number) => number;
  readonly x: (labelled: boolean) => VegaLiteSpec;
  /** Under everything else in a panel: the ends of the axis and the suspected change. */
  readonly ground: (labelled: boolean) => readonly VegaLiteSpec[];
}

export function courseAxis(
  data: AnimalCourseData,
  look: Pick<CourseAxis, "width" | "room" | "narrow">,
): CourseAxis {
  const time = (at: number) => localNumber(at, data.zone);
  const [from, to] = [time(data.from), time(data.to)];
  const days = ticksBack(from, to, look.narrow ? 3 : 6);
  // As an expression: written out they would become calls that the interpreter does not know.
  const ticks = { expr: JSON.stringify(days) };
  const x = (labelled: boolean): VegaLiteSpec => {
    const axis = timeAxis("at", "");
    return {
      ...axis,
      title: null,
      scale: { type: "utc", nice: false },
      axis: labelled
        ? {
            ...(axis["axis"] as VegaLiteSpec),
            values: ticks,
            labelFontWeight: {
              condition: { test: `datum.value >= ${days.at(-1)}`, value: 600 },
              value: 400,
            },
          }
        : { labels: false, ticks: false, grid: true, values: ticks },
    };
  };
  // An invisible rule at either end sets the axis: a stated domain of dates, shared between
  // panels, collapses to one point where expressions are interpreted.
  const ends = (labelled: boolean): VegaLiteSpec => ({
    data: { values: [{ at: from }, { at: to }] },
    mark: { type: "rule", opacity: 0 },
    encoding: { x: x(labelled) },
  });
  const ground = (labelled: boolean): readonly VegaLiteSpec[] => {
    const { change } = data;
    if (change == null) return [ends(labelled)];
    const inside = (at: number) => Math.min(Math.max(time(at), from), to);
    return [
      ends(labelled),
      {
        data: { values: [{ at: inside(change.earliest), end: inside(change.latest) }] },
        // Over the bands and through them: neither may hide the other.
        mark: { type: "rect", color: palette.alarm, opacity: 0.13 },
        encoding: { x: x(labelled), x2: { field: "end" } },
      },
      {
        data: { values: [{ at: inside(change.at) }] },
        mark: { type: "rule", color: palette.alarm, strokeDash: [6, 3], strokeWidth: 1.5 },
        encoding: { x: x(labelled) },
      },
    ];
  };
  return { ...look, from, to, time, x, ground };
}

/** Midnights from the last one back in whole weeks (days, where few are shown), the newest always among them. */
function ticksBack(from: number, to: number, most: number): readonly number[] {
  const days = Math.max(1, (to - from) / dayMs);
  const step = days <= 7 ? Math.max(1, Math.ceil(days / most)) : 7 * Math.ceil(days / 7 / most);
  const last = Math.floor(to / dayMs) * dayMs;
  const ticks: number[] = [];
  for (let at = last; at >= from; at -= step * dayMs) ticks.unshift(at);
  return ticks;
}
