import { existsSync } from "node:fs";
import { resolve } from "node:path";
import { askHandOver } from "../analysis/ask-hand-over.js";
import { UsageError } from "../core/usage-error.js";
import { dayPage } from "../publish/day-page.js";
import { readStudy } from "../records/files/read-study.js";
import type { IndexEntry } from "../report/renderers/page/index-page.js";
import { type NotebookParameters, parameterDefault, readNotebook } from "./read-notebook.js";

/** The notebook whose study and day the front page shows. */
const first = "start-here";

/**
 * The day's board of the study that the notebooks read, with the ways to their
 * pages. Null where there is no such study: a plain list then stands in its place.
 */
export async function frontPage(
  options: { readonly notebooks: string; readonly parameters?: NotebookParameters },
  pages: readonly IndexEntry[],
): Promise<string | null> {
  const path = resolve(options.notebooks, `${first}.ipynb`);
  if (!existsSync(path)) return null;
  const notebook = readNotebook(path);
  const value = (name: string) => {
    const given = options.parameters?.[name];
    return given === undefined ? parameterDefault(notebook, name) : String(given);
  };
  const [folder, day] = [value("studyFolder"), value("onDay")];
  if (folder === null) return null;
  try {
    const study = await readStudy(resolve(options.notebooks, folder));
    const { value: answer } = await askHandOver(
      study,
      day === null || day === "null" ? {} : { onDay: day },
    );
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
