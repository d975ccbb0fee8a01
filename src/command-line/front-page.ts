import { askHandOver } from "../analysis/ask-hand-over.js";
import { UsageError } from "../core/usage-error.js";
import { dayPage } from "../publish/day-page.js";
import type { Study } from "../records/study.js";
import type { IndexEntry } from "../report/renderers/page/index-page.js";

/**
 * The day's board of the study that the notebooks read, with the ways to their
 * pages. Null where it has no such day: a plain list then stands in its place.
 */
export async function frontPage(
  { study, onDay }: { readonly study: Study; readonly onDay: string | null },
  pages: readonly IndexEntry[],
): Promise<string | null> {
  try {
    const { value: answer } = await askHandOver(study, { onDay });
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
  } catch (error) {
    // A study that cannot be read is said by the notebooks themselves.
    if (error instanceof UsageError) return null;
    throw error;
  }
}
