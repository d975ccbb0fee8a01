import type { VegaLiteSpec } from "./chart.js";
import { shortNames, wrapText } from "./fit-text.js";
import { measureText } from "./measure-text.js";

/**
 * Labels for an axis of names: one line, or two where a name needs them, set
 * apart by a line feed (`axisOfNames` splits there). Names that differ stay
 * different.
 */
export function axisLabels(names: readonly string[], width: number): ReadonlyMap<string, string> {
  // Two lines rarely fill up, so a name gets a little less than twice the width.
  const short = shortNames(names, 1.8 * width, 12);
  return new Map(
    [...short].map(([name, cut]) => [name, wrapText(cut, width, 12, false, 2).join("\n")]),
  );
}

/** A side with the names that `axisLabels` made. */
export function axisOfNames(field: string, labels: readonly string[]): VegaLiteSpec {
  return {
    field,
    type: "nominal",
    title: null,
    sort: labels,
    axis: {
      grid: true,
      tickSize: 0,
      labelPadding: 8,
      labelLimit: 400,
      ...(labels.some(isTwoLines) ? { labelExpr: "split(datum.label, '\\n')" } : {}),
    },
  };
}

/** Height of a row: room for two lines where any label has two. */
export function rowStep(labels: readonly string[], usual: number): number {
  return labels.some(isTwoLines) ? Math.max(usual, 34) : usual;
}

const isTwoLines = (label: string) => label.includes("\n");

/** How many legend entries stand side by side within `width` pixels: one to four. */
export function legendColumns(labels: readonly string[], width: number, size: number): number {
  const widest = Math.max(1, ...labels.map((label) => measureText(label, size, false)));
  // Beside its words an entry has a symbol and a gap.
  return Math.min(4, Math.max(1, Math.floor(width / (widest + 45))));
}
