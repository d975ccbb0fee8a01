import { basename, dirname } from "node:path";
import type { DayAnswer } from "../analysis/ask-day.js";
import { askedLines, askedOfOthers } from "../report/day/asked-lines.js";
import { shiftBands } from "../report/day/shift-bands.js";
import { sheetPage } from "../report/renderers/page/sheet-page.js";
import { shiftPage } from "../report/renderers/page/shift-page.js";
import { formatDate } from "../units/format-date.js";
import { formatMass } from "../units/format-measured.js";
import { type DayOfFolderOptions, dayOfFolder } from "./day-of-folder.js";
import { pageFont } from "./page-font.js";
import { firstLines, footOf } from "./page-foot.js";
import { writeSet } from "./write-set.js";

export interface WriteHandOverOptions extends DayOfFolderOptions {
  /** The page. */
  readonly out: string;
  /** The feeding sheet to print; not written when left out. */
  readonly sheet?: string;
}

/**
 * The hand-over page alone, for the change of shift: the animals in care, each
 * with its last 24 hours and its orders; and the sheet of the next
 * feeding day to print. Returns how many animals it shows; what became of each
 * decision goes to `onDecision`, a sentence each.
 *
 * @example await writeHandOver("my-nursery", { out: "out" }) // 9, the animals in care that it shows
 */
export async function writeHandOver(
  folder: string,
  options: WriteHandOverOptions,
): Promise<number> {
  const day = await dayOfFolder(folder, options);
  const { handOver, sheet } = shiftPages(day);
  await writeOne(options.out, "hand-over", handOver());
  if (options.sheet !== undefined) await writeOne(options.sheet, "feeding-sheet", sheet());
  return day.inCare;
}

/** Both pages of a day, each made when asked for. */
export function shiftPages({ day, named }: Awaited<ReturnType<typeof dayOfFolder>>) {
  return {
    handOver: () => named(handOverPage(day, [])),
    sheet: () => named(feedingSheet(day, [])),
  };
}

const writeOne = (path: string, set: string, page: string) =>
  writeSet(dirname(path), set, new Map([[basename(path), page]]), { keep: true });

type Links = readonly { readonly href: string; readonly text: string }[];

/** The change of shift, a band an animal. */
export function handOverPage(answer: DayAnswer, links: Links, recordsHref?: string): string {
  return shiftPage({
    ...shiftBands(answer, recordsHref),
    links,
    foot: footOf(),
    style: pageFont(),
  });
}

/** The sheet of the next feeding day, to print. */
export function feedingSheet(
  { analysis: { value: analysis }, shift }: DayAnswer,
  links: Links,
): string {
  const inCare = analysis.animals.filter((a) => a.inCare);
  const until = shift?.until ?? analysis.records.end ?? 0;
  return sheetPage({
    title: `${analysis.title}: feeding sheet`,
    shift,
    zone: analysis.settings.zone,
    first: firstLines(analysis),
    asked: Object.fromEntries(
      inCare.map((a) => [a.animalId, askedLines(analysis, a, until)] as const),
    ),
    weighed: Object.fromEntries(
      inCare.flatMap(({ animalId, last }) =>
        last === null
          ? []
          : [[animalId, `${formatMass(last.massG)} on ${formatDate(last.feedingDay)}`] as const],
      ),
    ),
    askedOfOthers: askedOfOthers(analysis, new Set(inCare.map((a) => a.animalId)), until),
    foot: footOf(),
    links,
    style: pageFont(),
  });
}
