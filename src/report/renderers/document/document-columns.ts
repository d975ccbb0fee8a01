import { cellText } from "../../section/cell-text.js";
import { intervalParts } from "../../section/interval-parts.js";
import type { Cell, Column, Table } from "../../section/section.js";

/** Width of the text on A4 with the document's margins, in twentieths of a point. */
export const pageDxa = 10_106;

/** A bold word beside the same word in regular type, rounded up. */
const boldIsWider = 1.15;
/** Margins of a cell, both sides and a little. */
const besides = 150;
/** A word longer than this many letters may break: an id of eighty letters fits no column. */
const longestKept = 30;
/** Sizes tried in turn, half points: the first at which every word fits its column. */
const sizes = { few: [17, 15, 13], many: [14, 13, 12] } as const;

/** Some columns of a table side by side: which, how wide, how large the type. */
export interface ColumnsOnPage {
  readonly columns: readonly number[];
  readonly widths: readonly number[];
  /** Half points. */
  readonly size: number;
}

/**
 * The columns of a table as they stand on the page, so that no word breaks: in one
 * piece where the type can be made small enough, else in pieces one under another,
 * each beginning with the first column.
 *
 * @example columnsOnPage(table)[0].columns // [0, 1, 2, 3]
 */
export function columnsOnPage(table: Table): readonly ColumnsOnPage[] {
  const asked = table.columns.map((column, at) => needOf(table, column, at));
  const all = asked.map((_, at) => at);
  const tried = sizes[table.columns.length > 7 ? "many" : "few"];
  for (const size of tried)
    if (least(all, asked, size) <= pageDxa)
      return [{ columns: all, size, widths: shared(all, asked, size) }];
  const size = tried.at(-1)!;
  const pieces: number[][] = [];
  let piece = [0];
  for (const at of all.slice(1)) {
    if (piece.length > 1 && least([...piece, at], asked, size) > pageDxa) {
      pieces.push(piece);
      piece = [0];
    }
    piece.push(at);
  }
  pieces.push(piece);
  return pieces.map((columns) => ({ columns, size, widths: shared(columns, asked, size) }));
}

/** A cell's text, with spaces inside an interval that no line breaks at. */
export function shownText(cell: Cell, column: Column): string {
  const text = cellText(cell, column);
  const parts = intervalParts(text);
  return parts === null ? text : parts.map((part) => part.replaceAll(" ", "\u00a0")).join(" ");
}

/** Letters of the longest word and of a usual cell. */
interface Need {
  readonly word: number;
  readonly usual: number;
}

function needOf(table: Table, column: Column, at: number): Need {
  const texts = table.rows.map((row) => shownText(row[at] ?? null, column));
  const lengths = texts.map((each) => each.length).sort((a, b) => a - b);
  const usual = lengths[Math.floor(0.9 * (lengths.length - 1))] ?? 0;
  const head = column.unit ? `${column.title} (${column.unit})` : column.title;
  const longestWord = (all: readonly string[]) =>
    Math.max(0, ...all.flatMap((each) => each.split(" ").map((w) => w.length)));
  // The head is bold, and so is the first column.
  const headWord = longestWord([head]) * boldIsWider;
  const word = Math.max(headWord, longestWord(texts) * (at === 0 ? boldIsWider : 1));
  return { word: Math.min(word, longestKept), usual: Math.min(usual, 60) };
}

/** Twentieths of a point a letter takes at a size in half points: a little over half an em. */
const letter = (size: number) => size * 5.8;

const least = (columns: readonly number[], asked: readonly Need[], size: number) =>
  columns.reduce((sum, at) => sum + asked[at]!.word * letter(size) + besides, 0);

/** Columns get what their longest word needs, and share the rest by what stands in them. */
function shared(columns: readonly number[], asked: readonly Need[], size: number): number[] {
  const wide = columns.map((at) => {
    const need = asked[at]!.word * letter(size) + besides;
    return { need, more: Math.max(0, asked[at]!.usual * letter(size) + besides - need) };
  });
  const needed = wide.reduce((sum, each) => sum + each.need, 0);
  if (needed >= pageDxa) return wide.map((each) => Math.floor((pageDxa * each.need) / needed));
  const more = wide.reduce((sum, each) => sum + each.more, 0);
  const share = more === 0 ? 0 : Math.min(1, (pageDxa - needed) / more);
  const left = pageDxa - needed - share * more;
  return wide.map((each) => Math.floor(each.need + share * each.more + left / columns.length));
}
