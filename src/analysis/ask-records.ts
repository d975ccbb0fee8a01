import type { Result } from "../core/result.js";
import type { Study } from "../records/study.js";
import { type StudySummary, summariseStudy } from "../records/summarise-study.js";
import type { StudySeries } from "../series/animal-series.js";
import { buildSeries, type SeriesOptions } from "../series/build-series.js";

/** What a check of the records shows. */
export interface RecordsAnswer {
  readonly summary: StudySummary;
  /** Every animal's history, with what is doubted in it. */
  readonly series: StudySeries;
}

/**
 * The records: what was read, what could not be used, and which entries look
 * like slips of the pen.
 *
 * @param options of long records only the feeds in doubt may be kept.
 * @example askRecords(await readStudy("data-demo")).value.series.animals.length // 35
 */
export function askRecords(
  study: Study,
  options: Pick<SeriesOptions, "feeds"> = {},
): Result<"ask-records", RecordsAnswer> {
  const series = buildSeries(study, options);
  return {
    kind: "ask-records",
    schema: 1,
    value: { summary: summariseStudy(study), series },
    method: {
      name: "Histories of all animals, entries doubted",
      options: { ...options },
      citations: [],
    },
    basis: { used: study.tables.weighings.length, leftOut: [], of: "weighings" },
    diagnostics: {},
    notices: [],
  };
}
