import { noticeText } from "../core/catalogue.js";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import type { Wording } from "../core/wording.js";
import { tableColumns } from "../records/columns.js";
import type { Study } from "../records/study.js";
import type { SheetCell } from "../report/renderers/sheet/sheet-cells.js";
import { type Table, table } from "../report/section/section.js";
import type { NetWeighing, SeriesFeed, StudySeries } from "../series/animal-series.js";
import { localText } from "../units/format-date.js";
import { exchangeDayMonth } from "../units/read-time.js";

/** A weighing under suspicion and whose it is. */
export interface SlipInCheck {
  readonly animalId: string;
  readonly weighing: NetWeighing;
}

export function slipsOf(series: StudySeries): SlipInCheck[] {
  return series.animals.flatMap((a) =>
    a.weighings
      .filter((w) => w.slip !== null)
      .map((weighing) => ({ animalId: a.animal.animalId, weighing })),
  );
}

/** A feed under suspicion and whose it is. */
export interface DoubtedFeed {
  readonly animalId: string;
  readonly feed: SeriesFeed;
}

export function doubtedFeedsOf(series: StudySeries): DoubtedFeed[] {
  return series.animals.flatMap((a) =>
    a.feeds
      .filter((f) => f.slip !== undefined)
      .map((feed) => ({ animalId: a.animal.animalId, feed })),
  );
}

/** Everything that was set aside, doubted or noticed, and how columns were read. */
export function problemsTable(study: Study, series: StudySeries, wording: Wording): Table[] {
  const rows = [
    ...study.setAside.map((r) => [
      "set aside",
      r.file,
      r.line,
      r.column,
      r.value,
      noticeText(r.reason, wording),
      noticeText(r.suggestion, wording),
      shortened(r.raw.join(" | "), sizeLimits.rowInListLetters),
    ]),
    ...slipsOf(series).map(({ weighing: w }) => [
      "suspected slip",
      w.row.origin.file,
      w.row.origin.line,
      "mass_g",
      String(w.row.massG),
      noticeText(w.why, wording),
      "Decide in decisions.csv: correct, keep or leave out.",
      null,
    ]),
    ...doubtedFeedsOf(series).map(({ feed: f }) => [
      "suspected slip",
      f.row.origin.file,
      f.row.origin.line,
      "offered_g",
      String(f.row.offeredG),
      noticeText(f.slip!.why, wording),
      "Decide in decisions.csv: correct, keep or leave out.",
      null,
    ]),
    ...[...study.notices, ...series.notices].map((n) => [
      n.level === "info" ? "information" : "notice",
      n.place?.file ?? n.place?.table ?? null,
      n.place?.line ?? null,
      n.place?.column ?? null,
      null,
      noticeText(n, wording),
      null,
      null,
    ]),
  ];
  const columns = (study.columns ?? []).map((c) => [
    c.table,
    c.file,
    c.header,
    c.column ?? "not read",
    c.unit,
    c.unitFrom,
  ]);
  return [
    table(
      "problems",
      "Every row set aside, every suspected slip, every notice.",
      titles("what", "file", "line", "column", "value", "reason", "what to do", "row"),
      rows,
    ),
    table(
      "columns",
      "How each column was read.",
      titles("table", "file", "header", "read as", "unit", "unit from"),
      columns,
    ),
  ];
}

/** A local time with day and month of its date exchanged. */
function exchanged(text: string): string | null {
  const day = exchangeDayMonth(text.slice(0, 10));
  return day === null ? null : `${day}${text.slice(10)}`;
}

const titles = (...names: string[]) => names.map((title) => ({ title }));

/**
 * A decisions.csv to be filled in: a row for each doubted weighing and feed with
 * what is suggested; decision, who, when and why are a person's to write.
 */
export function decisionsToMake(
  slips: readonly SlipInCheck[],
  feeds: readonly DoubtedFeed[],
  zone: string,
): SheetCell[][] {
  const header = tableColumns.decisions.map((c) => c.name);
  const line = (cells: Readonly<Record<string, SheetCell>>, suggested: string) => [
    ...header.map((name) => cells[name] ?? null),
    suggested,
  ];
  return [
    [...header, "suggested"],
    ...slips.map(({ animalId, weighing: w }) => {
      const slip = w.slip!;
      const tareForgotten = slip.kind === "tare forgotten";
      const sameReading = ["tare forgotten", "wrong day", "animals swapped"].includes(slip.kind);
      return line(
        {
          animal_id: animalId,
          at: localText(w.row.at, zone),
          mass_g: w.row.massG,
          new_animal_id: slip.kind === "animals swapped" ? slip.otherAnimalId : null,
          new_at: slip.kind === "wrong day" ? exchanged(localText(w.row.at, zone)) : null,
          new_mass_g:
            slip.suggestedG === null || sameReading ? null : slip.suggestedG + (w.row.tareG ?? 0),
          new_tare_g: tareForgotten ? w.row.massG - slip.suggestedG! : null,
        },
        slip.kind,
      );
    }),
    ...feeds.map(({ animalId, feed: f }) =>
      line(
        {
          animal_id: animalId,
          at: localText(f.row.at, zone),
          offered_g: f.row.offeredG,
          new_animal_id: f.slip!.otherAnimalId,
          new_offered_g: f.slip!.suggestedG,
        },
        f.slip!.kind,
      ),
    ),
  ];
}
