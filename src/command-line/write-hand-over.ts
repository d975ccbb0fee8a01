import { analyse } from "../analysis/analyse.js";
import { readStudy } from "../records/files/read-study.js";
import { handOverSections } from "../report/hand-over.js";
import { reportPage } from "../report/page/report-page.js";
import { formatDate, screenWording } from "../units/format.js";
import { pageFont } from "./page-font.js";
import { libraryVersion } from "./version.js";
import { writeWhole } from "./write-whole.js";

/**
 * The hand-over page alone, for the change of shift: the animals in care, each
 * with its last 24 hours. Returns how many animals it shows.
 */
export async function writeHandOver(
  folder: string,
  options: { readonly out: string; readonly onDay?: string },
): Promise<number> {
  const study = await readStudy(folder);
  // Curves take most of the time and are not shown here.
  const { value } = await analyse(study, {
    curves: [],
    ...(options.onDay === undefined ? {} : { onDay: options.onDay }),
  });
  const page = reportPage({
    title: "Hand-over",
    under: `${value.title}: animals in care on ${formatDate(value.onDay)}`,
    foot: `gramline ${libraryVersion()}. Records up to ${formatDate(value.onDay)}. No diagnosis: the attending veterinarian decides.`,
    sections: handOverSections(value),
    style: `${pageFont()}${handOverStyle}`,
    wording: screenWording(value.settings.zone),
  });
  await writeWhole(options.out, page);
  return value.animals.filter((a) => a.inCare).length;
}

/** On paper each animal has a sheet of its own. */
export const handOverStyle =
  " main > section { break-before: page; } main > section:first-of-type { break-before: auto; }";
