import type { DayAnswer } from "../analysis/ask-day.js";
import { askHandOver } from "../analysis/ask-hand-over.js";
import { UsageError } from "../core/usage-error.js";
import { dayPage } from "../publish/day-page.js";
import type { Study } from "../records/study.js";
import type { IndexEntry } from "../report/renderers/page/index-page.js";

/**
 * The day of the study that the notebooks read, for the front page. Asked before they
 * run, so that they go on from what is kept of it. Null where it has no such day.
 */
export async function frontAnswer({
  study,
  onDay,
}: {
  readonly study: Study;
  readonly onDay: string | null;
}): Promise<DayAnswer | null> {
  try {
    // Like every page of the day, it says where its records end long before today.
    return (await askHandOver(study, { onDay, now: Date.now() })).value;
  } catch (error) {
    // A study that cannot be read is said by the notebooks themselves.
    if (error instanceof UsageError) return null;
    throw error;
  }
}

/** The day's board with the ways to the pages of the notebooks. */
export function frontPage(answer: DayAnswer, pages: readonly IndexEntry[]): string {
  return dayPage(answer, {
    more: [
      {
        title: `Pages of the notebooks (${pages.length})`,
        links: pages.map((p) => ({
          href: p.href,
          text: p.failed ? `${p.title} (did not run to its end)` : p.title,
        })),
      },
    ],
  });
}
