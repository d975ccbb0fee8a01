import { light } from "./theme.js";

/** Colours by their role; see `theme`. */
export const palette = {
  paper: light("paper"),
  /** Beside ink, where two things are told apart: what came before, the usual. */
  blue: light("water-line"),
  ink: light("ink"),
  soft: light("ink2"),
  hair: light("hair"),
  /** Axes, bars of a range, marks that say little. */
  grey: light("rule"),
  /** Measured on the animal that is asked about. */
  measured: light("ink"),
  /** Expected, usual, of contemporaries: fills and the line through them. */
  usual: light("water1"),
  usualMiddle: light("water2"),
  usualLine: light("water-line"),
  usualInk: light("water-ink"),
  /** Ordered by people. */
  plan: light("plan"),
  planInk: light("plan-ink"),
  planPale: light("plan-pale"),
  /** Needs attention. */
  alarm: light("alarm"),
  alarmPale: light("alarm-pale"),
} as const;

/**
 * A band such as an interval: a light fill whose edges stand out from the
 * ground by 3:1, because the fill alone does not (WCAG 2.2, 1.4.11).
 */
export const bandLook = {
  color: palette.usual,
  fillOpacity: 1,
  stroke: palette.usualLine,
  strokeOpacity: 1,
  strokeWidth: 0.75,
} as const;

/** Colours of names that stand side by side, apart in hue and in grey; every name has a dash and a shape as well. */
export const seriesColours: readonly string[] = [
  light("ink"),
  light("water-line"),
  light("rust"),
  light("violet"),
  light("moss"),
  light("rule"),
];

/** No dash is as short as it is wide: a curve of a model never looks like points. */
export const seriesDashes: readonly (readonly number[])[] = [
  [1, 0],
  [7, 3],
  [4, 3],
  [9, 3, 4, 3],
  [14, 3],
  [9, 3, 4, 3, 4, 3],
];

export const seriesShapes: readonly string[] = [
  "circle",
  "square",
  "triangle-up",
  "diamond",
  "cross",
  "triangle-down",
];

/**
 * Scales for a set of named series. Colour and dash (and shape) run at
 * different paces, so that no two of the first 36 names look alike.
 */
export function seriesScales(names: readonly string[]): {
  readonly colour: ScaleOf<string>;
  readonly dash: ScaleOf<readonly number[]>;
  readonly shape: ScaleOf<string>;
} {
  const by = <T>(values: readonly T[], place: (i: number) => number): ScaleOf<T> => ({
    domain: names,
    range: names.map((_, i) => values[place(i) % values.length]!),
  });
  const later = (i: number) => i + Math.floor(i / seriesColours.length);
  return {
    colour: by(seriesColours, (i) => i),
    dash: by(seriesDashes, later),
    shape: by(seriesShapes, later),
  };
}

export interface ScaleOf<T> {
  readonly domain: readonly string[];
  readonly range: readonly T[];
}
