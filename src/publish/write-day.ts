import { basename, dirname } from "node:path";
import { askHandOver } from "../analysis/ask-hand-over.js";
import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { readStudy } from "../records/files/read-study.js";
import { dayPage } from "./day-page.js";
import { decisionSentences } from "./decision-sentences.js";
import { writeSet } from "./write-set.js";

export interface WriteDayOptions {
  /** The page. */
  readonly out: string;
  readonly onDay?: string;
  /** The clock, epoch ms: rows dated after it never say which day it is. Default: not asked. */
  readonly now?: number;
  /** Leave out notes, names and permit numbers. Default false. */
  readonly withoutPeople?: boolean;
  readonly onDecision?: (sentence: string) => void;
}

/**
 * The day's board alone: every animal in care on a line, those of most concern
 * first, with what is to be done and by when. Returns how many animals it shows;
 * what became of each decision goes to `onDecision`, a sentence each.
 *
 * @throws UsageError for a folder that holds no study, or a day without records.
 * @example await writeDay("data-demo", { out: "out/day.html", onDay: "2024-04-20" }) // 3
 */
export async function writeDay(folder: string, options: WriteDayOptions): Promise<number> {
  const read = await readStudy(folder);
  const { value: day } = await askHandOver(options.withoutPeople ? leaveOutPeople(read) : read, {
    ...(options.onDay === undefined ? {} : { onDay: options.onDay }),
    ...(options.now === undefined ? {} : { now: options.now }),
  });
  for (const sentence of decisionSentences(day.analysis.value.series))
    options.onDecision?.(sentence);
  const files = new Map([[basename(options.out), dayPage(day)]]);
  await writeSet(dirname(options.out), "day", files, { keep: true });
  return day.analysis.value.animals.filter((a) => a.inCare).length;
}
