/** A row's place in time as a file writes it: whose, which day, which minute of that day. */
export interface TimedEntry {
  /** The animal or group; entries of different ones are not compared. */
  readonly whose: string;
  /** What it is of, where the file says: its diet, its kind of sign. */
  readonly kind?: string;
  /** The day as a number of days, or as written where it could not be read. */
  readonly day: string | number;
  /** Minutes since the midnight that the clock time names. */
  readonly minute: number;
  /** The row it came from. */
  readonly row: number;
}

/** The entries of one animal under one date, in the order in which they were written down. */
export type DayRun = readonly TimedEntry[];

/**
 * Cuts entries into runs: one animal's entries under one date that follow each
 * other. A list that runs from the newest day to the oldest is turned round.
 */
export function dayRuns(entries: readonly TimedEntry[]): DayRun[] {
  const streams = new Map<string, TimedEntry[]>();
  for (const entry of entries) {
    const stream = streams.get(entry.whose);
    if (stream === undefined) streams.set(entry.whose, [entry]);
    else stream.push(entry);
  }
  const runs: TimedEntry[][] = [];
  for (const stream of streams.values()) {
    if (newestFirst(stream)) stream.reverse();
    for (const entry of stream) {
      const run = runs.at(-1);
      if (run !== undefined && run[0]!.whose === entry.whose && run[0]!.day === entry.day)
        run.push(entry);
      else runs.push([entry]);
    }
  }
  return runs;
}

function newestFirst(stream: readonly TimedEntry[]): boolean {
  let down = 0;
  for (let i = 1; i < stream.length; i++) {
    const [a, b] = [stream[i - 1]!.day, stream[i]!.day];
    if (typeof a === "number" && typeof b === "number") down += Math.sign(a - b);
  }
  return down > 0;
}

/** Where the clock goes back inside a run: the places of the entries that are earlier than the one before. */
export function goingBack(run: readonly { readonly minute: number }[]): number[] {
  return run.flatMap((entry, i) => (i > 0 && entry.minute < run[i - 1]!.minute ? [i] : []));
}
