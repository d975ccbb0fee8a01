import type { DayAnswer } from "../analysis/ask-day.js";
import { askHandOver } from "../analysis/ask-hand-over.js";
import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { readStudy } from "../cache/read-study.js";
import { noticeText } from "../core/catalogue.js";
import type { LongWork } from "../core/long-work.js";
import type { Study } from "../records/study.js";
import { screenWording } from "../units/format.js";
import { decisionSentences } from "./decision-sentences.js";
import { withDietNames } from "./with-diet-names.js";

/** What every page of one day is asked with. */
export interface DayOfFolderOptions {
  readonly onDay?: string;
  /** The clock, epoch ms: rows dated after it never say which day it is. Default: not asked. */
  readonly now?: number;
  /** Leave out notes, names and permit numbers. Default false. */
  readonly withoutPeople?: boolean;
  readonly onDecision?: (sentence: string) => void;
  /** What the pages are about, and what must be said of their day before anything else. */
  readonly onAnswer?: (answer: DayAnswer, aboutDay: readonly string[]) => void;
  readonly onProgress?: LongWork["onProgress"];
}

/**
 * The day of a study's folder, as its pages need it; what became of each decision
 * goes to `onDecision`, a sentence each.
 *
 * @throws UsageError for a folder that holds no study, or a day without records.
 * @example (await dayOfFolder("data-demo", { onDay: "2025-07-16" })).inCare // 9
 */
export async function dayOfFolder(folder: string, options: DayOfFolderOptions) {
  return await dayOfStudy(await readStudy(folder), options);
}

/** The same of a study that was read. */
export async function dayOfStudy(read: Study, options: DayOfFolderOptions) {
  // Nothing of what was read goes further, diets included: a name may be a person's.
  const study = options.withoutPeople ? leaveOutPeople(read) : read;
  const { value: day } = await askHandOver(study, {
    ...(options.onDay === undefined ? {} : { onDay: options.onDay }),
    ...(options.now === undefined ? {} : { now: options.now }),
    ...(options.onProgress === undefined ? {} : { onProgress: options.onProgress }),
  });
  const { aboutDay } = day.analysis.value.records;
  const wording = screenWording(day.analysis.value.settings.zone);
  options.onAnswer?.(
    day,
    aboutDay.map((n) => noticeText(n, wording)),
  );
  for (const sentence of decisionSentences(day.analysis.value.series))
    options.onDecision?.(sentence);
  return {
    day,
    inCare: day.analysis.value.animals.filter((a) => a.inCare).length,
    /** A page on which diets stand under their names. */
    named: (page: string) => withDietNames(page, study.tables.diets),
  };
}
