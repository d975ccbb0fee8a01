import type { ReportAnswer } from "../analysis/ask-report.js";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import type { Study } from "../records/study.js";
import { provenance } from "../report/husbandry/provenance.js";
import { recordsHref, reportTables, type StudyReport } from "../report/husbandry/study-report.js";
import { reportDocument } from "../report/renderers/document/report-document.js";
import { type DrawingThreads, forgetPage } from "../report/renderers/draw-ahead.js";
import { type ReportPage, reportPage } from "../report/renderers/page/report-page.js";
import { csvText } from "../report/renderers/sheet/csv-text.js";
import { sheetCells } from "../report/renderers/sheet/sheet-cells.js";
import { workbook } from "../report/renderers/sheet/workbook.js";
import { screenWording } from "../units/format.js";
import { formatDate } from "../units/format-date.js";
import { dayPage } from "./day-page.js";
import { pageFont } from "./page-font.js";
import { firstLines } from "./page-foot.js";
import { pageScript } from "./page-script.js";
import { libraryVersion } from "./version.js";
import { withDietNames } from "./with-diet-names.js";
import { feedingSheet, handOverPage } from "./write-hand-over.js";

export interface ReportSettings {
  readonly date: string;
  readonly seed: number;
  /** Null where the usual ages of each species were compared. */
  readonly ages: string | null;
  readonly withoutPeople: boolean;
}

/**
 * Every file of a report, by its path relative to the folder; touches no disk but the font.
 * Threads that draw, where there are any, are some pages ahead.
 */
export async function reportFiles(
  report: StudyReport,
  answer: ReportAnswer,
  study: Study,
  how: ReportSettings,
  drawing: DrawingThreads | null = null,
): Promise<Map<string, string | Uint8Array>> {
  const { analysis } = answer;
  const files = new Map<string, string | Uint8Array>();
  const wording = screenWording(analysis.value.settings.zone);
  const first = firstLines(analysis.value)
    .map((words) => `. ${words}`)
    .join("");
  const under = `Husbandry report of ${formatDate(report.date)}${first}`;
  const style = `${pageFont()}${reportStyle}`;
  const script = pageScript();
  const page = (more: Pick<ReportPage, "title" | "sections"> & Partial<ReportPage>) =>
    reportPage({ under, foot: report.foot, style, wording, script, ...more });
  const names = fileNames(report.animals.map((a) => a.animalId));

  const drawn = pagesDrawn(report, drawing);
  const home = { href: "index.html", text: "All animals today" };
  const back = { href: "report.html", text: "Report" };
  const sheet = { href: "feeding-sheet.html", text: "Feeding sheet to print" };
  const handOver = { href: "hand-over.html", text: "Hand-over" };
  const records = { href: recordsHref, text: "Records" };
  const copies = [
    { href: "tables.xlsx", text: "Tables (workbook)" },
    { href: "report.docx", text: "Word document" },
  ];
  const pageOf = new Map(report.animals.map((a, at) => [a.animalId, `animals/${names[at]}.html`]));
  const animals = {
    title: `Pages of the animals (${report.animals.length})`,
    links: report.animals.map((a) => ({ href: pageOf.get(a.animalId)!, text: a.title })),
  };
  files.set(
    "index.html",
    dayPage(answer, {
      links: [handOver, sheet, back, records, ...copies],
      more: [animals],
      hrefOf: (id) => pageOf.get(id) ?? null,
      recordsHref: records.href,
    }),
  );
  await drawn(0);
  files.set(
    "report.html",
    page({
      title: report.title,
      sections: report.sections,
      year: analysis.value.onDay.slice(0, 4),
      hrefOf: (id) => pageOf.get(id) ?? null,
      links: [home, handOver, sheet, records, ...copies],
      listed: animals,
    }),
  );
  files.set(
    records.href,
    page({
      title: `${report.title}: records`,
      sections: report.records,
      contents: false,
      links: [home, back],
    }),
  );
  for (const [at, animal] of report.animals.entries()) {
    await drawn(at + 1);
    files.set(
      `animals/${names[at]}.html`,
      page({
        title: animal.title,
        under: `${report.title}, ${formatDate(report.date)}${first}`,
        lead: animal.lead,
        year: analysis.value.onDay.slice(0, 4),
        first: firstLines(analysis.value),
        sections: animal.sections,
        contents: false,
        links: [
          { href: "../index.html", text: "All animals today" },
          { href: "../report.html", text: "Report" },
        ],
      }),
    );
    forgetPage(animal.sections);
    // Drawings are let go of only between turns: made in one turn, all of them are held at once.
    await new Promise((resume) => setImmediate(resume));
  }
  files.set("hand-over.html", handOverPage(answer, [home, sheet, back], records.href));
  files.set("feeding-sheet.html", feedingSheet(answer, [home, handOver, back]));
  files.set(
    "report.docx",
    await reportDocument({
      title: report.title,
      under,
      foot: report.foot,
      date: how.date,
      sections: report.sections,
      wording,
      year: analysis.value.onDay.slice(0, 4),
    }),
  );
  addTables(files, report, answer, how.date);
  for (const [path, page] of files) {
    if (typeof page === "string" && path.endsWith(".html"))
      files.set(path, withDietNames(page, study.tables.diets));
  }
  const settings = { version: libraryVersion(), ...how };
  files.set(
    "provenance.json",
    `${JSON.stringify(provenance(report, analysis, study, settings), null, 2)}\n`,
  );
  return files;
}

/** Waits for the charts of a page: 0 is the report, from 1 on the animals in order. */
function pagesDrawn(report: StudyReport, drawing: DrawingThreads | null) {
  if (drawing === null) return async () => {};
  const pages = [report.sections, ...report.animals.map((each) => each.sections)];
  const asked: Promise<void>[] = [];
  return async (page: number) => {
    for (let at = asked.length; at <= page + pagesAhead && at < pages.length; at++) {
      const drawn = drawing.draw(pages[at]!, { png: at === 0 });
      // What fails is told to whoever waits for that page, not to the process before that.
      drawn.catch(() => {});
      asked.push(drawn);
    }
    await asked[page];
  };
}

/** Pages whose charts are drawn before they are asked for. */
const pagesAhead = 4;

/** The tables of a report, in one workbook and each as a file of its own. */
function addTables(
  files: Map<string, string | Uint8Array>,
  report: StudyReport,
  { analysis }: ReportAnswer,
  date: string,
): void {
  const { animals, settings } = analysis.value;
  const wording = screenWording(settings.zone);
  const tables = [...reportTables(report.sections), ...report.sheetsOnly];
  const names = fileNames(tables.map((each) => each.name));
  files.set("tables.xlsx", workbook(tables, { title: report.title, date, wording, animals }));
  for (const [at, each] of tables.entries())
    files.set(`tables/${names[at]}.csv`, csvText(sheetCells(each, wording, animals)));
}

/** On paper the summary has a page of its own, a caption stays with its table, and a tall picture fits a page. */
const reportStyle =
  " @media print { main > #answers { break-after: page; } .questions > * { break-inside: avoid; } caption { break-inside: avoid; break-after: avoid; } figure svg { max-height: 220mm; } }";

/** Names that every file system takes, all different also where case does not count. */
export function fileNames(wanted: readonly string[]): string[] {
  const taken = new Set<string>();
  return wanted.map((each) => {
    const clean = each
      .normalize("NFC")
      .replace(/[^\p{L}\p{N}._-]+/gu, "-")
      .replace(/^[.-]+|[.-]+$/g, "");
    const start = /^(con|prn|aux|nul|com\d|lpt\d)?$/i.test(clean)
      ? `file-${clean}`
      : shortened(clean, sizeLimits.fileNameLetters);
    let name = start;
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${start}-${n}`;
    taken.add(name.toLowerCase());
    return name;
  });
}
