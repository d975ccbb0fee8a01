import { type FileHandle, open, readFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { type LongWork, stopIfCancelled } from "../../core/long-work.js";
import { sizeLimits } from "../../core/size-limits.js";
import { UsageError } from "../../core/usage-error.js";
import { type CivilDate, dateOfNumber } from "../../units/calendar.js";
import type { UnitName } from "../../units/quantity.js";
import { tableColumns } from "../columns.js";
import { decodeText } from "../decode-text.js";
import { doubtfulTimes } from "../doubtful-times.js";
import { readHeader } from "../match-headers.js";
import type { RawRow } from "../raw-table.js";
import { guessDelimiter } from "../read-text-table.js";
import type { TotalPlan } from "../read-total-row.js";
import { scanDelimited, scanRow } from "../scan-delimited.js";
import type { SetAsideRow, StudySettings } from "../study.js";
import { totalRows } from "../total-rows.js";

export interface TotalOptions extends LongWork {
  readonly settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "dateStyle" | "decimal">;
  /** What the amounts are: masses offered (may be 0) or weighed (may not). */
  readonly table: "feeds" | "weighings";
  /** Their headers, where they are not called as ours are. */
  readonly headers?: {
    readonly animal?: string;
    readonly at?: string;
    readonly amount?: string;
    /** A column of words that keeps groups apart (feed or weight, diet, place). */
    readonly kind?: string;
  };
  /** Unit of the amounts. Default g. */
  readonly unit?: UnitName;
  /** Animals that exist; others are set aside. Default: any name is taken. */
  readonly knownAnimals?: ReadonlySet<string>;
  /** How many rows set aside are kept with all they say. Default 1000; all are counted. */
  readonly keep?: number;
  readonly onSetAside?: (row: SetAsideRow) => void;
}

/** Amounts of a file by animal, kind and feeding day, and what became of its rows. */
export interface RecordTotals {
  readonly rowsIn: number;
  readonly accepted: number;
  readonly setAside: number;
  /** Rows set aside by reason. */
  readonly reasons: Readonly<Record<string, number>>;
  readonly firstSetAside: readonly SetAsideRow[];
  readonly animals: readonly string[];
  readonly groupCount: number;
  /** In order of the animals' first appearance, kind and day. */
  groups(): Generator<TotalledDay>;
}

export interface TotalledDay {
  readonly animalId: string;
  readonly kind: string;
  readonly day: CivilDate;
  readonly n: number;
  readonly sumG: number;
}

const PIECE = 1 << 20;

/**
 * Adds up a delimited file of any length by animal and feeding day, reading it
 * piece by piece: memory grows with animals and days, not with rows. Rows are
 * read and set aside as in a small file; only what needs all rows at once
 * (rows that stand twice) is not looked for. UTF-8 or Windows-1252.
 *
 * Whether its clock has twelve hours, or its small hours stand under the date of
 * the evening before, is seen from its first megabyte; such rows are set aside.
 * A layout other than "times as written" ("as above", days across) needs the rows around a row: a file to which
 * the study.json beside it gives one is refused, never added up as if it had none.
 *
 * @throws UsageError when the file is not there, empty, in UTF-16, has a layout, or
 *   a column is missing.
 * @example for (const day of (await totalRecords("feeds.csv", options)).groups()) day.sumG
 */
export async function totalRecords(path: string, options: TotalOptions): Promise<RecordTotals> {
  const name = basename(path);
  const file = await open(path, "r").catch((error: NodeJS.ErrnoException) => {
    throw fault(name, "a file", `it cannot be opened (${error.code ?? error.message})`);
  });
  try {
    const asWritten = await refuseLayouts(path);
    return await totalFile(file, name, options, asWritten);
  } finally {
    await file.close();
  }
}

/**
 * Refuses a file of which a study.json beside it, or above its folder, says that
 * it is laid out otherwise; gives whether it says that its times are as written.
 */
async function refuseLayouts(path: string): Promise<boolean> {
  let asWritten = false;
  const [folder, name] = [dirname(resolve(path)), basename(path)];
  for (const [home, source] of [
    [folder, name],
    [dirname(folder), `${basename(folder)}/${name}`],
  ] as const) {
    const text = await readFile(join(home, "study.json"), "utf8").catch(() => null);
    const all = text === null ? undefined : layoutsIn(text)?.[source];
    if (!Array.isArray(all)) continue;
    const steps = all.filter((step: { layout?: unknown }) => step?.layout !== "times as written");
    asWritten ||= steps.length < all.length;
    if (steps.length === 0) continue;
    throw fault(
      source,
      "a list with a row for each record",
      `study.json gives it a layout (${steps.length === 1 ? "1 step" : `${steps.length} steps`})`,
      "Read it with readStudy, in parts by season if it is long, or write it as a plain list.",
    );
  }
  return asWritten;
}

function layoutsIn(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const { layouts } = JSON.parse(text.replace(/^\ufeff/, "")) as { layouts?: unknown };
    return typeof layouts === "object" && layouts !== null
      ? (layouts as Readonly<Record<string, unknown>>)
      : undefined;
  } catch {
    // A study.json that cannot be read is said where the study is read.
    return undefined;
  }
}

async function totalFile(
  file: FileHandle,
  name: string,
  options: TotalOptions,
  asWritten: boolean,
): Promise<RecordTotals> {
  const { size } = await file.stat();
  const buffer = Buffer.allocUnsafe(PIECE + sizeLimits.rowBytes + 1024);
  let { bytesRead: end } = await file.read(buffer, 0, PIECE, 0);
  let position = end;
  const head = readHead(buffer.subarray(0, end), name);
  const reasons: Record<string, number> = Object.create(null) as Record<string, number>;
  const first: SetAsideRow[] = [];
  const keep = options.keep ?? 1000;
  const how = plan(head, name, options, (row) => {
    reasons[row.reason.code] = (reasons[row.reason.code] ?? 0) + 1;
    if (first.length < keep) first.push(row);
    options.onSetAside?.(row);
  });
  const beginning = buffer.subarray(head.bytes, end);
  const doubtTime = asWritten ? null : doubtfulTimes(rowsOf(beginning, head, end >= size), how);
  const work = totalRows({ ...how, doubtTime }, head.lines + 1);
  buffer.copyWithin(0, head.bytes, end);
  end -= head.bytes;
  for (;;) {
    stopIfCancelled(options.signal);
    const isLast = position >= size;
    const done = work.take(buffer, end, isLast);
    buffer.copyWithin(0, done, end);
    end -= done;
    if (isLast) break;
    const room = Math.min(PIECE, buffer.length - end);
    const { bytesRead } = await file.read(buffer, end, room, position);
    // A file that shrinks while it is read ends where it ends.
    position = bytesRead === 0 ? size : position + bytesRead;
    end += bytesRead;
    options.onProgress?.({ done: position, total: size, doing: `reading ${name}` });
  }
  const { rowsIn, accepted, setAside } = work.counts;
  if (rowsIn !== accepted + setAside)
    throw new Error(`${name}: ${rowsIn} rows in, ${accepted} accepted, ${setAside} set aside`);
  return {
    rowsIn,
    accepted,
    setAside,
    reasons: { ...reasons },
    firstSetAside: first,
    animals: work.animals.names,
    groupCount: work.totals.count(),
    *groups() {
      for (const g of work.totals.groups())
        yield {
          animalId: work.animals.names[g.animal]!,
          kind: work.kinds.names[g.kind]!,
          day: dateOfNumber(g.day),
          n: g.n,
          sumG: g.sum,
        };
    },
  };
}

interface Head {
  readonly header: readonly string[];
  readonly delimiter: string;
  readonly bytes: number;
  readonly lines: number;
}

/** The header: the first line with anything on it. */
function readHead(bytes: Buffer, name: string): Head {
  const { encoding } = decodeText(bytes.subarray(0, 4096));
  if (encoding.startsWith("UTF-16"))
    throw fault(name, "UTF-8 text", "it is in UTF-16", "Save it as UTF-8.");
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  let from = mark;
  let lines = 0;
  while (from < bytes.length) {
    const close = bytes.indexOf(10, from);
    const to = close < 0 ? bytes.length : close;
    lines++;
    const text = bytes.subarray(from, to).toString("utf8").replace(/\r$/, "");
    if (text.trim() !== "") {
      const delimiter = guessDelimiter(bytes.subarray(from, from + 100_000).toString("latin1"));
      const header = scanDelimited(text, delimiter).at(0)?.cells ?? [];
      return { header, delimiter, bytes: Math.min(to + 1, bytes.length), lines };
    }
    from = to + 1;
  }
  throw fault(name, "a header and rows", "the file is empty");
}

function plan(
  head: Head,
  file: string,
  options: TotalOptions,
  onSetAside: (row: SetAsideRow) => void,
): TotalPlan {
  const { settings, headers = {}, table } = options;
  const plain = head.header.map((h) => readHeader(h).plain);
  const find = (wanted: string, what: string): number => {
    const index = plain.indexOf(readHeader(wanted).plain);
    if (index >= 0) return index;
    throw fault(
      file,
      `a column "${wanted}" (${what})`,
      `its header has ${head.header.slice(0, 30).join(", ")}`,
      "Say which header it is.",
    );
  };
  const amountName = table === "feeds" ? "offered_g" : "mass_g";
  const column = (name: string) => tableColumns[table].find((c) => c.name === name)!;
  const how = (name: string) => ({
    column: { ...column(name), required: true },
    zone: settings.zone,
    startHour: settings.feedingDayStartHour,
    dateStyle: settings.dateStyle,
    decimal: settings.decimal,
    unit: name === amountName ? (options.unit ?? ("g" as const)) : null,
  });
  return {
    file,
    table,
    delimiter: head.delimiter,
    columns: head.header.length,
    animal: { index: find(headers.animal ?? "animal_id", "the animal"), how: how("animal_id") },
    at: { index: find(headers.at ?? "at", "the time"), how: how("at") },
    amount: { index: find(headers.amount ?? amountName, "the amount"), how: how(amountName) },
    kind:
      headers.kind === undefined
        ? null
        : {
            index: find(headers.kind, "the kind"),
            how: { ...how("notes"), column: column("notes") },
          },
    knownAnimals: options.knownAnimals ?? null,
    onSetAside,
    doubtTime: null,
  };
}

/** The rows at the beginning of a file, of which the last one read may not be whole. */
function rowsOf(bytes: Uint8Array, head: Head, whole: boolean): RawRow[] {
  const { text } = decodeText(bytes);
  const rows: RawRow[] = [];
  let place = { position: 0, line: head.lines + 1 };
  while (place.position < text.length) {
    const read = scanRow(text, place, head.delimiter, head.header.length);
    if (read.row !== null) rows.push(read.row);
    place = read.next;
  }
  return whole ? rows : rows.slice(0, -1);
}

function fault(where: string, needed: string, came: string, todo = "Check the file."): UsageError {
  return new UsageError({ needed, came, where, todo });
}
