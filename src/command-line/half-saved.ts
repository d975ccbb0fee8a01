import type { StudyInput } from "../records/parse-study.js";

/** Files as they were when pages were last made of them. */
export type TakenFiles = ReadonlyMap<string, Uint8Array>;

/** A file that has gone, or lost its last rows: both happen on purpose, and while it is saved. */
const shorterMs = 2000;
/** One that ends within a row: nobody does that on purpose, and a slow drive may pause there. */
const cutMs = 10_000;

/**
 * For how long the files must have been still before what they hold is taken for what was
 * saved, beyond the moment that every change is given, in ms: programs that write a table
 * slowly, or take it away and bring a new one, pass through states that look like records.
 *
 * @example stillnessAsked(new Map([["feeds.csv", bytes]]), []) // 2000: the table has gone
 */
export function stillnessAsked(taken: TakenFiles, now: readonly StudyInput[]): number {
  const there = new Map(now.map(({ path, bytes }) => [path, bytes]));
  return Math.max(
    0,
    ...[...taken].map(([name, before]) => {
      const after = there.get(name);
      if (after === undefined) return shorterMs;
      if (after === before || !/\.(csv|tsv|tab)$/i.test(name)) return 0;
      if (endsWithinRow(before, after)) return cutMs;
      return isBegunBy(before, after) ? shorterMs : 0;
    }),
  );
}

/** A table that closed its last line and now does not, with fewer cells there than in its heading. */
function endsWithinRow(before: Uint8Array, after: Uint8Array): boolean {
  if (after.length === 0 || !isLineEnd(before.at(-1)) || isLineEnd(after.at(-1))) return false;
  if (isBegunBy(before, after)) return !isLineEnd(before[after.length]);
  const lines = Buffer.from(after)
    .toString("latin1")
    .split(/\r\n|\r|\n/);
  const marks = (line: string) => line.split(/[,;\t]/).length;
  return marks(lines.at(-1) ?? "") < marks(lines[0] ?? "");
}

/** Whether the older text begins with the whole of the newer one. */
const isBegunBy = (before: Uint8Array, after: Uint8Array) =>
  after.length < before.length && Buffer.compare(before.subarray(0, after.length), after) === 0;

const isLineEnd = (byte: number | undefined) => byte === 10 || byte === 13;
