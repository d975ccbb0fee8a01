import { regularWidths, semiBoldWidths, type WidthRun } from "./fonts/font-widths.js";

/**
 * Width of a text in pixels in the shipped font, without a canvas, so that a
 * chart is laid out alike on every machine. Characters outside the table count
 * as one em when wide (East Asian scripts, symbols), else as 0.6 em.
 *
 * @example measureText("Mass (g)", 12, false) // 50.5…
 */
export function measureText(text: string, size: number, bold: boolean): number {
  const runs = bold ? semiBoldWidths : regularWidths;
  let thousandths = 0;
  for (const character of text) thousandths += widthOf(character.codePointAt(0)!, runs);
  return (thousandths * size) / 1000;
}

function widthOf(code: number, runs: readonly WidthRun[]): number {
  for (const run of runs) {
    const width = run.widths[code - run.first];
    if (width !== undefined && width > 0) return width;
  }
  if (code >= 0x300 && code <= 0x36f) return 0;
  return code >= 0x1100 ? 1000 : 600;
}
