/**
 * Colours that stay apart for readers who do not see all hues: the palette of
 * Okabe and Ito (2008), "Color Universal Design", in an order of our own that
 * also falls apart in grey. Every series has a dash and a shape as well, so no
 * chart depends on colour.
 */
export const palette = {
  ink: "#1b1f24",
  grey: "#7c868e",
  pale: "#8a949c",
  blue: "#0072b2",
  vermilion: "#d55e00",
  green: "#009e73",
  orange: "#e69f00",
  sky: "#56b4e9",
  purple: "#cc79a7",
  band: "#0072b2",
} as const;

/**
 * A band such as an interval: see-through, its edges drawn in a line that
 * stands out from white by 3:1, because the fill alone does not (WCAG 2.2,
 * 1.4.11).
 */
export const bandLook = {
  color: palette.band,
  fillOpacity: 0.16,
  stroke: palette.band,
  strokeOpacity: 0.75,
  strokeWidth: 0.75,
} as const;

/** Colours of series: those of the palette that stand out from white by 3:1, and two greys. */
export const seriesColours: readonly string[] = [
  palette.blue,
  palette.vermilion,
  palette.green,
  palette.purple,
  palette.ink,
  palette.grey,
];

export const seriesDashes: readonly (readonly number[])[] = [
  [1, 0],
  [7, 3],
  [2, 3],
  [9, 3, 2, 3],
  [4, 2],
  [1, 2],
];

export const seriesShapes: readonly string[] = [
  "circle",
  "square",
  "triangle-up",
  "diamond",
  "cross",
  "triangle-down",
];

/** Scales for a set of named series: colour, dash and shape in step. */
export function seriesScales(names: readonly string[]): {
  readonly colour: ScaleOf<string>;
  readonly dash: ScaleOf<readonly number[]>;
  readonly shape: ScaleOf<string>;
} {
  const cycle = <T>(values: readonly T[]): ScaleOf<T> => ({
    domain: names,
    range: names.map((_, i) => values[i % values.length]!),
  });
  return { colour: cycle(seriesColours), dash: cycle(seriesDashes), shape: cycle(seriesShapes) };
}

export interface ScaleOf<T> {
  readonly domain: readonly string[];
  readonly range: readonly T[];
}
