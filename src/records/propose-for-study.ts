import { requiredTables, tableColumns } from "./columns.js";
import { readJsonTable } from "./json-tables.js";
import { matchCount, tableNamed } from "./match-headers.js";
import type { StudyInput } from "./parse-study.js";
import { proposeMapping, type TableProposal } from "./propose-mapping.js";
import type { RawTable } from "./raw-table.js";
import { readTextTable } from "./read-text-table.js";
import { readSettings, type StudyFile } from "./settings.js";
import { cellText } from "./sheet-tables.js";
import type { TableName } from "./study.js";

/**
 * Looks through a study's files for tables and columns that are not called as
 * ours are and proposes what they may be. Files that read as they are get no
 * proposal; one table is proposed for one file at most.
 */
export function proposeForStudy(inputs: readonly StudyInput[]): TableProposal[] {
  const settings = inputs.find((i) => i.path.toLowerCase() === "study.json");
  if (settings === undefined) return [];
  const study = readSettings(new TextDecoder().decode(settings.bytes));
  const raws = inputs.flatMap((input) => rawTables(input, study));
  const done = new Set<TableName>();
  const open: { raw: RawTable; named: TableName | null }[] = [];
  for (const { raw, named } of raws) {
    if (named !== null && complete(named, raw, study)) done.add(named);
    else open.push({ raw, named });
  }
  const found: TableProposal[] = [];
  const candidates = open
    .flatMap(({ raw, named }) => proposeMapping(raw, study, named ?? undefined))
    .sort((a, b) => b.confidence - a.confidence);
  const used = new Set<string>();
  for (const proposal of candidates) {
    if (used.has(proposal.file) || done.has(proposal.table) || proposal.confidence < 0.5) continue;
    used.add(proposal.file);
    if (requiredTables.includes(proposal.table)) done.add(proposal.table);
    found.push(proposal);
  }
  return found;
}

function complete(table: TableName, raw: RawTable, study: StudyFile): boolean {
  const needed = tableColumns[table].filter((c) => c.required).length;
  return matchCount(table, raw.header, study).required === needed;
}

function rawTables(
  input: StudyInput,
  study: StudyFile,
): { raw: RawTable; named: TableName | null }[] {
  const { path, bytes } = input;
  const told = study.sources.find((s) => s.source === path)?.table;
  const named = told ?? tableNamed(path.replace(/\.[a-z]+$/i, ""));
  if (/\.(csv|tsv|tab)$/i.test(path)) return [{ raw: readTextTable(path, bytes), named }];
  if (/\.json$/i.test(path) && named !== null)
    return [{ raw: readJsonTable(path, bytes, study.settings.decimal), named }];
  return (input.sheets ?? []).flatMap((sheet) => {
    // The first row with at least three filled cells is taken for the header of a proposal.
    const top = sheet.rows.findIndex((row) => row.filter((c) => c !== null).length >= 3);
    if (top < 0) return [];
    const texts = sheet.rows.map((row) => row.map((c) => cellText(c, study.settings.decimal)));
    const file = `${path}#${sheet.name}`;
    const raw: RawTable = {
      file,
      header: texts[top]!,
      headerLine: sheet.firstRow + top,
      rows: texts.slice(top + 1).map((cells, i) => ({ line: sheet.firstRow + top + 1 + i, cells })),
      notices: [],
    };
    const source = study.sources.find((s) => s.source === file)?.table;
    return [{ raw, named: source ?? tableNamed(sheet.name) }];
  });
}
