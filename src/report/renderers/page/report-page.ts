import type { Wording } from "../../../core/wording.js";
import { typeset, withYearOnce, yearIn } from "../../../units/typeset.js";
import type { PageLink } from "../../section/page-link.js";
import { say } from "../../section/say.js";
import type { LeadBlock, Section } from "../../section/section.js";
import { escapeHtml, htmlText } from "./escape.js";
import { leadHtml } from "./lead-html.js";
import { leadStyle } from "./lead-style.js";
import { type PageFrame, pageFrame } from "./page-frame.js";
import { anchorOf, sectionHtml } from "./section-html.js";

export interface ReportPage {
  readonly title: string;
  /** One line under the title. */
  readonly under: string;
  readonly foot: string;
  readonly sections: readonly Section[];
  /** Links to pages beside this one. */
  readonly links?: readonly PageLink[];
  /** Many links, folded away under a title. */
  readonly listed?: { readonly title: string; readonly links: readonly PageLink[] };
  readonly contents?: boolean;
  /** The answer in a sentence, in place of title and line under it. */
  readonly lead?: LeadBlock;
  /** With a lead: what is wrong with the day itself, before everything else. */
  readonly first?: readonly string[];
  /** The year that stands in the first line; other dates of it go without. */
  readonly year?: string;
  readonly wording?: Wording;
  /** Where the page of an animal is. */
  readonly hrefOf?: (animalId: string) => string | null;
  readonly style?: string;
  readonly script?: PageFrame["script"];
}

/** Sections as one page with a table of contents. */
export function reportPage(page: ReportPage): string {
  const contents =
    page.contents === false
      ? ""
      : `<nav class="contents" aria-label="Contents"><ol>${page.sections
          .filter((each) => each.heading !== "")
          .map(
            (each) =>
              `<li><a href="#${escapeHtml(each.id ?? anchorOf(each.heading))}">${escapeHtml(each.heading)}</a></li>`,
          )
          .join("")}</ol></nav>`;
  const links = (page.links ?? [])
    .map((each) => `<a href="${escapeHtml(each.href)}">${escapeHtml(each.text)}</a>`)
    .join(" · ");
  const listed = (page.listed?.links ?? [])
    .map((each) => `<li><a href="${escapeHtml(each.href)}">${escapeHtml(each.text)}</a></li>`)
    .join("");
  const beside =
    (links === "" ? "" : `<p class="screen-only">${links}</p>`) +
    (listed === ""
      ? ""
      : `<details class="beside screen-only"><summary>${escapeHtml(page.listed?.title ?? "")}</summary><ul>${listed}</ul></details>`);
  const { year } = page;
  const under =
    page.lead === undefined && year !== undefined
      ? withYearOnce([page.under], year)[0]!
      : page.under;
  const body = page.sections
    .map((each) =>
      sectionHtml(each, {
        interactive: page.script !== undefined,
        ...(year === undefined ? {} : { year, yearStands: yearIn(under, year) }),
        ...(page.hrefOf === undefined ? {} : { hrefOf: page.hrefOf }),
        ...(page.wording === undefined ? {} : { wording: page.wording }),
      }),
    )
    .join("\n");
  const top =
    page.lead === undefined
      ? `<h1>${escapeHtml(page.title)}</h1>\n<p class="under">${htmlText(under)}</p>\n${beside}`
      : leadHtml(
          page.lead,
          year,
          "h1",
          links === "" ? "" : `<span class="screen-only">${links}</span>`,
          page.first,
        );
  return pageFrame({
    title: page.title,
    body: `${top}\n${contents}\n${body}`,
    // The level of the intervals stands once, where there are any.
    foot: typeset(
      /\(\S+\u00a0to\u00a0\S+\)/.test(body) ? `${page.foot} ${say("page-brackets")}` : page.foot,
      year,
    ),
    style: `${leadStyle}${page.style ?? ""}`,
    ...(page.script === undefined ? {} : { script: page.script }),
  });
}
