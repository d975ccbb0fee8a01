import { availableParallelism } from "node:os";
import { askReport } from "../analysis/ask-report.js";
import { everySpelling } from "../analysis/every-spelling.js";
import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { keptPictures } from "../cache/kept-pictures.js";
import { readStudy } from "../cache/read-study.js";
import type { LongWork } from "../core/long-work.js";
import { UsageError } from "../core/usage-error.js";
import type { Study } from "../records/study.js";
import { studyReport } from "../report/husbandry/study-report.js";
import { type DrawingThreads, openDrawing } from "../report/renderers/draw-ahead.js";
import { isCivilDate } from "../units/calendar.js";
import { decisionSentences } from "./decision-sentences.js";
import { dictionaryOf } from "./dictionary-of.js";
import { libraryVersion } from "./version.js";
import { entryName, writeGeneration } from "./write-generation.js";
import { pdfSet, writeSet } from "./write-set.js";

export interface WriteReportOptions extends LongWork {
  /** Folder the files go to; made when missing. */
  readonly out: string;
  /** The date the report carries, YYYY-MM-DD: same records and date, same bytes. */
  readonly date: string;
  /** Last feeding day looked at. Default: the last on which rows stand together. */
  readonly onDay?: string;
  /** The clock, epoch ms: rows dated after it never say which day it is. Default: not asked. */
  readonly now?: number;
  /** Ages between which seasons are compared, days: "21-63". Default: the usual ages of each species. */
  readonly ages?: string;
  /** Leave out notes, names and permit numbers. Default false. */
  readonly withoutPeople?: boolean;
}

/** What was written, by path relative to the folder. */
export interface WrittenReport {
  /** The page in front, which leads to all others. */
  readonly open: string;
  /** Where they lie: a folder of their own for each content, so that a set is there whole. */
  readonly folder: string;
  readonly files: readonly string[];
  readonly animals: number;
  /** What became of each decision, a sentence each: those that met no row first. */
  readonly decisions: readonly string[];
}

/**
 * The husbandry report of a study folder in one call: `index.html`, the day's board,
 * leads to a folder with `report.html` (one page, works offline and on paper),
 * `report.docx`, `tables.xlsx`, `tables/*.csv`, a page per animal under `animals/`, the
 * hand-over page and `provenance.json`. Old or new, the set is there whole.
 *
 * @throws UsageError for a folder that holds no study or a date that is none.
 * @example await writeReport("data-demo", { out: "out/report", date: "2026-01-01" })
 */
export async function writeReport(
  folder: string,
  options: WriteReportOptions,
): Promise<WrittenReport> {
  if (!isCivilDate(options.date)) {
    throw new UsageError({
      needed: "the date of the report as YYYY-MM-DD",
      came: `"${options.date}" was given`,
      where: "writeReport, option date",
      todo: "Write for example 2026-01-31.",
    });
  }
  const read = await readStudy(folder);
  const study = options.withoutPeople ? leaveOutPeople(read) : read;
  const threads = threadsFor(study);
  // What names people is neither kept nor looked for.
  const kept = options.withoutPeople ? null : keptPictures(folder);
  const drawing = threads === 0 ? null : await openDrawing(threads, kept);
  const made = await madeOf(study, options, drawing).finally(() => drawing?.close());
  const { files, answer, report } = made;
  await writeSet(options.out, pdfSet, new Map());
  const generation = await writeGeneration(options.out, "report", files, {
    forgetOlder: options.withoutPeople ?? false,
  });
  return {
    open: entryName,
    folder: generation,
    files: [entryName, ...[...files.keys()].map((name) => `${generation}/${name}`)],
    animals: report.animals.length,
    decisions: decisionSentences(answer.analysis.value.series),
  };
}

/** The report and all its files; threads that draw, where there are any, start while the records are worked on. */
async function madeOf(study: Study, options: WriteReportOptions, drawing: DrawingThreads | null) {
  const seed = options.seed ?? 1;
  const { value: answer } = await askReport(study, {
    ...(options.onDay === undefined ? {} : { onDay: options.onDay }),
    ...(options.now === undefined ? {} : { now: options.now }),
    ...(options.signal === undefined ? {} : { signal: options.signal }),
    ...(options.onProgress === undefined ? {} : { onProgress: options.onProgress }),
    ages: options.ages ?? null,
    seed,
  });
  const report = studyReport({
    answer,
    reportDate: options.date,
    version: libraryVersion(),
    dictionary: dictionaryOf(),
    spellings: everySpelling(),
    peopleLeftOut: study.notices.find((n) => n.code === "records-people-left-out") ?? null,
  });
  // Loaded here, so that whoever never writes a report does not wait for the Word library.
  const { reportFiles } = await import("./report-files.js");
  const how = {
    date: options.date,
    seed,
    ages: options.ages ?? null,
    withoutPeople: options.withoutPeople ?? false,
  };
  return { answer, report, files: await reportFiles(report, answer, study, how, drawing) };
}

/** A report of few animals is drawn sooner than threads have started; more than four wait for the one that makes the pages. */
function threadsFor(study: Study): number {
  const cores = availableParallelism();
  return cores < 2 || study.tables.animals.length < fewAnimals ? 0 : Math.min(cores, 4);
}

const fewAnimals = 8;
