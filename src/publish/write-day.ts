import { basename, dirname } from "node:path";
import { type DayOfFolderOptions, dayOfFolder } from "./day-of-folder.js";
import { dayPage } from "./day-page.js";
import { writeSet } from "./write-set.js";

export interface WriteDayOptions extends DayOfFolderOptions {
  /** The page. */
  readonly out: string;
}

/**
 * The day's board alone: every animal in care on a line, those of most concern
 * first, with what is to be done and by when. Returns how many animals it shows;
 * what became of each decision goes to `onDecision`, a sentence each.
 *
 * @throws UsageError for a folder that holds no study, or a day without records.
 * @example await writeDay("data-demo", { out: "out/day.html", onDay: "2025-07-16" }) // 9
 */
export async function writeDay(folder: string, options: WriteDayOptions): Promise<number> {
  const { day, named, inCare } = await dayOfFolder(folder, options);
  const files = new Map([[basename(options.out), named(dayPage(day))]]);
  await writeSet(dirname(options.out), "day", files, { keep: true });
  return inCare;
}
