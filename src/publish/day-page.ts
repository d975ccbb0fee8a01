import type { DayAnswer } from "../analysis/ask-day.js";
import { dayBoard } from "../report/day/day-board.js";
import { boardPage } from "../report/renderers/page/board-page.js";
import type { PageLink } from "../report/section/page-link.js";
import { pageFont } from "./page-font.js";
import { footOf } from "./page-foot.js";

/** What stands around the day's board. */
export interface DayPageLinks {
  readonly links?: readonly PageLink[];
  readonly more?: readonly { readonly title: string; readonly links: readonly PageLink[] }[];
  readonly hrefOf?: (animalId: string) => string | null;
  readonly recordsHref?: string;
}

/** The day's board as a page that needs no other file. */
export function dayPage(answer: DayAnswer, around: DayPageLinks = {}): string {
  const { links = [], more = [], ...places } = around;
  return boardPage({
    ...dayBoard(answer, places),
    links,
    more,
    foot: footOf(),
    style: pageFont(),
  });
}
