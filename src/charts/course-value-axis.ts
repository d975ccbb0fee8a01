import { plainNumber } from "./axes.js";
import type { ChartRow, VegaLiteSpec } from "./chart.js";
import type { CourseAxis } from "./course-axis.js";
import { type EndLabel, endLabels } from "./end-labels.js";
import { niceDomain } from "./nice-domain.js";

/** A panel of the picture, and its plotted numbers. */
export interface CoursePanel {
  readonly panel: VegaLiteSpec;
  readonly rows: readonly ChartRow[];
}

/** The encoding of a field on an axis. */
export type Field = (field: string) => VegaLiteSpec;

/**
 * The upright axis of one panel: as far as its values go, with marks at round numbers,
 * and with it the panel's heading and the words at the ends of its lines.
 *
 * @param height of the plot, pixels.
 * @example courseValueAxis([0, 90], 3, 90).of("value")
 */
export function courseValueAxis(values: readonly number[], ticks: number, height: number) {
  const { domain, step } = niceDomain(values, ticks);
  const of: Field = (field) => ({
    field,
    type: "quantitative",
    title: null,
    scale: { domain, nice: false, zero: false },
    axis: { tickCount: Math.round((domain[1] - domain[0]) / step), labelExpr: plainNumber },
  });
  return {
    of,
    panel: (
      title: string,
      axis: CourseAxis,
      rows: CoursePanel["rows"],
      layer: readonly VegaLiteSpec[],
    ): CoursePanel => ({
      panel: { width: axis.width, height, title: panelTitle(title), layer },
      rows,
    }),
    /** `dx`: pixels from the end of the plot to the words. */
    labels: (axis: CourseAxis, labels: readonly EndLabel[], look: { readonly dx?: number } = {}) =>
      endLabels(labels, {
        width: axis.room,
        range: domain[1] - domain[0],
        from: domain[0],
        height,
        x: axis.x(false),
        y: of("value"),
        ...look,
      }),
  };
}

/** The heading of a panel, over its axis. */
export function panelTitle(text: string): VegaLiteSpec {
  return { text, anchor: "start", frame: "group", fontSize: 12, fontWeight: 600, offset: 6 };
}
