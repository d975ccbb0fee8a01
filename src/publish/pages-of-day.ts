import type { DayAnswer } from "../analysis/ask-day.js";
import type { DietRow } from "../records/study.js";
import { dayPage } from "./day-page.js";
import { withDietNames } from "./with-diet-names.js";
import { feedingSheet, handOverPage } from "./write-hand-over.js";

/**
 * The pages of a day by their file names, each leading to the others: the day's board,
 * the hand-over, and the feeding sheet to print. Touches no disk but the font.
 *
 * @example pagesOfDay((await askHandOver(study)).value, study.tables.diets).get("index.html")
 */
export function pagesOfDay(answer: DayAnswer, diets: readonly DietRow[]): Map<string, string> {
  const day = { href: "index.html", text: "All animals today" };
  const handOver = { href: "hand-over.html", text: "Hand-over" };
  const sheet = { href: "feeding-sheet.html", text: "Feeding sheet to print" };
  const pages = {
    [day.href]: dayPage(answer, { links: [handOver, sheet] }),
    [handOver.href]: handOverPage(answer, [day, sheet]),
    [sheet.href]: feedingSheet(answer, [day, handOver]),
  };
  return new Map(
    Object.entries(pages).map(([name, page]) => [name, withDietNames(page, diets)] as const),
  );
}
