import { expect } from "vitest";
import type { ReportAnswer } from "../../src/analysis/ask-report.js";
import type { Chart } from "../../src/charts/chart.js";
import { dayPage as boardPage } from "../../src/publish/day-page.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { studyReport } from "../../src/report/husbandry/study-report.js";
import type { Block, Section } from "../../src/report/section/section.js";
import { cautionsIn } from "./cautions-in.js";
import { openHtml } from "./open-html.js";
import { unlikeScales } from "./unlike-scales.js";
import { wordFaults } from "./word-faults.js";
import { wordsOf } from "./words-of-parts.js";

type Part = Section | Block | Chart;

/** The parts of a question's page, however deep they lie in it. */
export function partsIn(page: unknown): Part[] {
  if (Array.isArray(page)) return page.flatMap(partsIn);
  if (typeof page !== "object" || page === null) return [];
  if ("kind" in page) return [page as Part];
  return Object.values(page).flatMap(partsIn);
}

/** The pictures of a page, in folds and out of them. */
export function chartsIn(page: unknown): Chart[] {
  if (typeof page !== "object" || page === null) return [];
  if ("kind" in page && page.kind === "chart") return [page as Chart];
  return Object.values(page).flatMap(chartsIn);
}

/** What a browser shows of a page, element by element. */
export function shown(html: string): string[] {
  return html
    .replace(/<(script|style|svg)[\s\S]*?<\/\1>/g, "")
    .split(/<\/?(?:p|li|h\d|td|th|tr|caption|title|summary|div|section|span|figcaption)[^>]*>/)
    .map((each) =>
      each
        .replace(/<[^>]*>/g, "")
        .replace(/&#(\d+);/g, (_, code) => String.fromCharCode(Number(code)))
        .replaceAll("\u00a0", " ")
        .trim(),
    )
    .filter((each) => each !== "");
}

/** Parts that stand open: no folds, nothing of what is folded with a method. */
export function openParts(page: object): Part[] {
  const methods = new Set(partsIn("methods" in page ? page.methods : []));
  return partsIn(page).filter((part) => part.kind !== "fold" && !methods.has(part));
}

/** The same of sections, whose blocks may be folds. */
function openOf(part: Section | Block): string[] {
  if (part.kind === "fold") return [];
  if (part.kind !== "section") return wordsOf(part);
  return [part.heading, ...part.blocks.flatMap(openOf), ...(part.sections ?? []).flatMap(openOf)];
}

/** The report of an answer, dated so that nothing hangs on the clock. */
export const reportOf = (answer: ReportAnswer) =>
  studyReport({
    answer,
    reportDate: "2026-01-01",
    version: "0",
    dictionary: [],
    peopleLeftOut: null,
  });

/** Every word of a report, its hand-over, sheet and day; what stands open goes into `open`. */
export function reportWords(answer: ReportAnswer, open: string[]): string[] {
  const report = reportOf(answer);
  const pages = [handOverPage(answer, []), feedingSheet(answer, [])];
  const { animals } = answer.analysis.value;
  const pagesOf = [report.sections, ...report.animals.map((a) => a.sections)];
  // Cautions once a page, where something is decided; the appendix repeats none.
  for (const page of pagesOf) {
    const cautions = cautionsIn(page);
    expect(cautions).toEqual(cautions.slice(0, 1));
  }
  expect(pagesOf.flatMap((page) => unlikeScales(chartsIn(page), animals))).toEqual([]);
  open.push(
    ...report.sections.filter((part) => part.id !== "appendix").flatMap(openOf),
    ...report.animals.flatMap((a) => [...openOf(a.lead), ...a.sections.flatMap(openOf)]),
    ...[...pages, boardPage(answer, { recordsHref: "r" })].flatMap((page) => shown(openHtml(page))),
  );
  return [
    report.title,
    report.foot,
    ...report.sections.flatMap(wordsOf),
    ...report.records.flatMap(wordsOf),
    ...report.animals.flatMap((a) => [a.title, ...a.sections.flatMap(wordsOf)]),
    ...pages.flatMap(shown),
  ];
}

export const faultsIn = (words: readonly string[]) => [...new Set(words.flatMap(wordFaults))];
