import type { AnimalSeries } from "../../series/animal-series.js";

/** What somebody wrote beside a weighing or a feed. */
export interface NoteBeside {
  readonly at: number;
  readonly what: "note of a weighing" | "note of a feed" | "note of a feed of its group";
  readonly words: string;
}

/**
 * Notes beside weighings and feeds after `from` and up to `until`, word for word, in
 * order of time; without those that are read as signs and stand among them.
 */
export function notesOfShift(series: AnimalSeries, from: number, until: number): NoteBeside[] {
  const read = new Set(series.signs.map((s) => s.row.origin));
  const rows = [
    ...series.weighings.map(({ at, row }) => ({ at, row, what: "note of a weighing" as const })),
    ...series.feeds.map(({ at, row }) => ({ at, row, what: "note of a feed" as const })),
    ...series.sharedFeeds.map((row) => ({
      at: row.at,
      row,
      what: "note of a feed of its group" as const,
    })),
  ];
  return rows
    .flatMap(({ at, row, what }): NoteBeside[] =>
      at > from && at <= until && row.notes !== null && !read.has(row.origin)
        ? [{ at, what, words: row.notes }]
        : [],
    )
    .sort((a, b) => a.at - b.at);
}
