import { askHandOver } from "../../src/analysis/ask-hand-over.js";
import type { Random } from "../../src/core/random.js";
import { dayPage } from "../../src/publish/day-page.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { Study } from "../../src/records/study.js";
import { checkNumbers, spoiltStudy } from "../records/mutate.js";
import { inputs } from "../records/small-study.js";

/** What became of one spoilt study. */
export interface Attacked {
  /** Refused in words when it was read, or when it was analysed; null: it went through. */
  readonly refused: "read" | "analysed" | null;
  readonly rowsIn: number;
  readonly setAside: number;
  /** Whether the rows of the spoilt file were counted by lines, by another hand than the reader's. */
  readonly counted: boolean;
}

/** So many of the studies are also turned into the pages of the day. */
const pagesOfEvery = 8;

/**
 * One study with a spoilt file: read, its rows counted, analysed with levels and
 * orders, every number of the answer looked at, and some made into pages. Throws
 * where anything but a refusal in words comes out of it.
 */
export async function attackRecords(random: Random): Promise<Attacked> {
  const { files, spoilt, headKept } = spoiltStudy(random);
  const withPages = random.below(pagesOfEvery) === 0;
  const study = orRefused(() => parseStudy(inputs(files)));
  if (study === null) return { refused: "read", rowsIn: 0, setAside: 0, counted: false };
  const rowsIn = study.counts.reduce((n, c) => n + c.rowsIn, 0);
  eachRowOnce(study);
  // Where other marks outvote the heading's, the file is no table and is not counted.
  const isTable = study.counts.some((count) => count.file === spoilt);
  const lines = headKept && isTable ? linesWithRows(files[spoilt] as Uint8Array) : null;
  if (lines !== null) {
    const own = new Set(placesOf(study).flatMap(([file, line]) => (file === spoilt ? [line] : [])));
    const missed = lines.filter((line) => !own.has(line));
    const invented = [...own].filter((line) => !lines.includes(line));
    if (missed.length + invented.length > 0)
      throw new Error(`${spoilt}: lines ${missed} are in no row, rows of lines ${invented}`);
  }
  const done = { rowsIn, setAside: study.setAside.length, counted: lines !== null };
  const answer = await askHandOver(study).catch((error: unknown) => refusal(error));
  if (answer === null) return { ...done, refused: "analysed" };
  checkNumbers(answer);
  if (withPages) {
    const pages = [
      handOverPage(answer.value, []),
      feedingSheet(answer.value, []),
      dayPage(answer.value, {}),
    ];
    // What a keeper wrote may hold these words; one that nobody wrote is ours.
    const written = Object.values(files)
      .map((file) =>
        Buffer.from(file as Uint8Array)
          .toString("latin1")
          .replaceAll("\0", ""),
      )
      .join("\n");
    for (const word of ["NaN", "Infinity", "undefined", "[object "])
      if (pages.some((page) => page.includes(word)) && !written.includes(word))
        throw new Error(`a page says ${word}`);
  }
  return { ...done, refused: null };
}

function orRefused<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    return refusal(error);
  }
}

/** A user's mistake is refused in words; anything else is a fault of ours. */
function refusal(error: unknown): null {
  if (error instanceof Error && error.name === "UsageError") return null;
  throw error;
}

/** Where each accepted row and each row set aside stands. */
function placesOf(study: Study): [string, number][] {
  const accepted = Object.values(study.tables).flatMap(
    (rows: readonly { readonly origin: { readonly file: string; readonly line: number } }[]) =>
      rows.map(({ origin }): [string, number] => [origin.file, origin.line]),
  );
  return [
    ...accepted,
    ...(study.decisions ?? []).map(({ origin }): [string, number] => [origin.file, origin.line]),
    ...study.setAside.map((row): [string, number] => [row.file, row.line]),
  ];
}

/** Rows in are those accepted and those set aside, each of them once, in every file. */
function eachRowOnce(study: Study): void {
  const byFile = new Map<string, number[]>();
  for (const [file, line] of placesOf(study)) byFile.set(file, [...(byFile.get(file) ?? []), line]);
  for (const [file, lines] of byFile)
    if (new Set(lines).size !== lines.length) throw new Error(`a row of ${file} counts twice`);
  for (const { file, rowsIn, accepted, setAside } of study.counts) {
    const found = byFile.get(file)?.length ?? 0;
    if (rowsIn !== found || rowsIn !== accepted + setAside)
      throw new Error(`${file}: ${rowsIn} rows in, ${found} found again`);
  }
}

/**
 * The lines below the heading on which something stands, told from the bytes by the
 * rules that people see on a page: lines end with CR, LF or both, and a line of
 * nothing but blanks and marks between cells is no row. Null where nobody can count by
 * lines: where a cell may hold a line end (quotation marks that do not enclose whole
 * cells of one line), where the encoding is not the heading's, and where a line holds
 * nothing but marks that part cells in some files and are text in others: other marks
 * than the heading's, or the heading's own where others stand below it.
 */
export function linesWithRows(bytes: Uint8Array): number[] | null {
  // Two bytes to a letter below a heading of one: nobody can say where a line ends.
  if (bytes.filter((byte) => byte === 0).length > bytes.length / 20) return null;
  const utf8 = new TextDecoder("utf-8", { fatal: true });
  let text: string;
  try {
    text = utf8.decode(bytes);
  } catch {
    // Any one-byte reading has its line ends and blanks in the same places but one.
    text = Buffer.from(bytes).toString("latin1");
    if (text.includes("\u00a0")) return null;
  }
  const lines = text.replaceAll("\0", "").split(/\r\n|\r|\n/);
  if (lines[0]?.includes(",") !== true) return null;
  const below = lines.slice(1);
  if (below.some((line) => otherMarks.test(line)) && below.some((line) => onlyCommas.test(line)))
    return null;
  const rows: number[] = [];
  for (const [i, line] of lines.entries()) {
    if (line.includes('"') && (!enclosed.test(line) || otherMarks.test(line))) return null;
    if (i === 0) continue;
    // Marks between cells and around them go; what is left was written into a cell.
    const rest = line
      .replace(/(^|,)"((?:[^"]|"")*)"(?=,|$)/g, "$1$2")
      .replaceAll(",", "")
      .trim();
    if (rest !== "" && rest.replace(/[;|\t]/g, "").trim() === "") return null;
    if (rest !== "") rows.push(i + 1);
  }
  return rows;
}

const otherMarks = /[;|\t]/;
const onlyCommas = /^[\s,]*,[\s,]*$/;
/** Cells between commas, each with no quotation mark or with one pair around it (RFC 4180). */
const enclosed = /^(?:[^",]*|"(?:[^"]|"")*")(?:,(?:[^",]*|"(?:[^"]|"")*"))*$/;
