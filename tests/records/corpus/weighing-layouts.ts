import { serial, type Value } from "../make-workbook.js";
import { type Change, dullStudy, weighingLines, weighingsHead } from "./dull-study.js";
import type { RecordSet } from "./record-set.js";

/** The cells of the weighings of the dull study. */
export const cut = weighingLines.map((line) => line.split(","));
export const days = [...new Set(cut.map((c) => c[1]!.slice(0, 10)))];
/** What a careful person reads from every set of a layout: each weighing once. */
export const masses = {
  rows: {
    weighings: ["animal_id | at | mass_g", ...cut.map((c) => `${c[0]} | ${c[1]} | ${c[2]}`)],
  },
  counts: { animals: 2, weighings: 20, feeds: 158 },
} as const;
/** The same by day where a layout has no room for the clock time. */
export const massesByDay = {
  rows: {
    weighings: [
      "animal_id | day | mass_g",
      ...cut.map((c) => `${c[0]} | ${c[1]!.slice(0, 10)} | ${c[2]}`),
    ],
  },
  counts: masses.counts,
} as const;

/** A set of the dull study, changed, whose weighings are read whole once the proposal is accepted. */
export const read = (name: string, change: Change, more: Partial<RecordSet> = {}): RecordSet => ({
  name,
  files: dullStudy(change),
  accept: true,
  ...masses,
  ...more,
});
/** The weighings as a text of its own, under the usual file name. */
export const weighings = (name: string, text: string, more: Partial<RecordSet> = {}) =>
  read(name, { put: { weighings: text } }, more);
/** The weighings as they are. */
export const plain = [weighingsHead, ...weighingLines, ""].join("\n");

/** The head of the weighings, and a cell of a workbook that holds an instant. */
export const head: Value[] = ["animal_id", "at", "mass_g", "tare_g"];
export const when = (text: string): Value => ({ v: serial(text), z: "yyyy-mm-dd hh:mm" });
/** The weighings as rows of a sheet. */
export const sheetRows = cut.map((c): Value[] => [c[0]!, when(c[1]!), Number(c[2]), Number(c[3])]);
/** Weighings as sheets of a workbook in place of the text file. */
export const sheets = (
  name: string,
  book: Uint8Array,
  more: Partial<RecordSet> = {},
  file = "weighings.xlsx",
) => read(name, { put: { weighings: null }, files: { [file]: book } }, more);
/** 2025-05-04 as 04.05.2025. */
export const european = (date: string) => date.replace(/^(\d+)-(\d+)-(\d+)/, "$3.$2.$1");
