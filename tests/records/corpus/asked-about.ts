import { noticeText } from "../../../src/core/catalogue.js";
import type { Notice } from "../../../src/core/notice.js";
import type { Study } from "../../../src/records/study.js";
import type { StudySeries } from "../../../src/series/animal-series.js";
import { buildSeries } from "../../../src/series/build-series.js";
import { screenWording } from "../../../src/units/format.js";

/** A question about one row: where the row stands, and what is said. */
export interface Question {
  readonly file: string;
  readonly line: number;
  readonly says: string;
}

/**
 * Every question about a single row: it was set aside, a notice names its line,
 * or the series doubts it. Notices about whole files or studies are none.
 */
export function questionsOf(study: Study, series: StudySeries = buildSeries(study)): Question[] {
  const wording = screenWording(study.settings.zone);
  const found: Question[] = study.setAside.map((row) => ({
    file: row.file,
    line: row.line,
    says: `${noticeText(row.reason, wording)} ${noticeText(row.suggestion, wording)}`,
  }));
  const add = (notice: Notice, origin?: { readonly file: string; readonly line: number }) => {
    const { file, line } = { ...notice.place, ...origin };
    if (file !== undefined && line !== undefined)
      found.push({ file, line, says: noticeText(notice, wording) });
  };
  // A notice about a header stands at the header's line; only rows are meant here.
  const headers = new Set(["records-columns-ignored", "records-columns-missing"]);
  for (const notice of study.notices)
    if (!headers.has(notice.code) && !notice.code.startsWith("records-unit-")) add(notice);
  for (const notice of series.notices) add(notice);
  for (const animal of series.animals) {
    for (const sign of animal.signs) if (sign.question !== null) add(sign.question);
    for (const w of animal.weighings) if (w.standing === "suspected slip") add(w.why, w.row.origin);
    for (const feed of animal.feeds) if (feed.slip !== undefined) add(feed.slip.why);
  }
  return found;
}
