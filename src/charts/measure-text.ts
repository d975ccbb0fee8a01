import { regularWidths, semiBoldWidths, type WidthRun } from "./fonts/font-widths.js";

/**
 * Width of a text in pixels in the shipped font, without a canvas, so that a
 * chart is laid out alike on every machine. Characters the font does not have
 * come from a font of the reader's machine and are count as: nothing for
 * marks that stand on other letters and for signs without a width; one em for
 * those that Unicode calls wide (Standard Annex #11, East Asian Width); the
 * base letter's width where it has one (Standard Annex #15); else 0.6 em.
 * Characters joined into one sign, such as an emoji of several, count once.
 *
 * @example measureText("Mass (g)", 12, false) // 50.5…
 */
export function measureText(text: string, size: number, bold: boolean): number {
  const runs = bold ? semiBoldWidths : regularWidths;
  let thousandths = 0;
  let joined = false;
  for (const character of text) {
    if (!joined) thousandths += widthOf(character, runs);
    joined = character === zeroWidthJoiner;
  }
  return (thousandths * size) / 1000;
}

/** True when the shipped font can draw every character of a text. */
export function isInShippedFont(text: string): boolean {
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if (code >= 0x20 && tableWidth(code, regularWidths) === null) return false;
  }
  return true;
}

const zeroWidthJoiner = "\u200d";

function widthOf(character: string, runs: readonly WidthRun[]): number {
  const width = tableWidth(character.codePointAt(0)!, runs);
  if (width !== null) return width;
  if (/^[\p{Mn}\p{Me}\p{Cf}\p{Emoji_Modifier}]$/u.test(character)) return 0;
  const base = [...character.normalize("NFD")][0]!;
  const baseWidth = base === character ? null : tableWidth(base.codePointAt(0)!, runs);
  return baseWidth ?? (isWide(character.codePointAt(0)!) ? 1000 : 600);
}

function tableWidth(code: number, runs: readonly WidthRun[]): number | null {
  for (const run of runs) {
    const width = run.widths[code - run.first];
    if (width !== undefined && width > 0) return width;
  }
  return null;
}

/** The blocks that are wide as a whole; single wide characters elsewhere do not matter here. */
function isWide(code: number): boolean {
  return wideBlocks.some(([first, last]) => code >= first && code <= last);
}

const wideBlocks: readonly (readonly [number, number])[] = [
  [0x1100, 0x115f],
  [0x2600, 0x27bf],
  [0x2e80, 0xa4cf],
  [0xa960, 0xa97f],
  [0xac00, 0xd7a3],
  [0xf900, 0xfaff],
  [0xfe30, 0xfe6f],
  [0xff00, 0xff60],
  [0xffe0, 0xffe6],
  [0x1f000, 0x1faff],
  [0x20000, 0x3fffd],
];
