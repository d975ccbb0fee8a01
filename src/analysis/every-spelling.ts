import { type AcceptedSpelling, acceptedSpellings } from "../records/accepted-spellings.js";
import { orderSpellings } from "../records/order-words.js";
import { signSpellings } from "../series/signs/sign-spellings.js";

/**
 * Every accepted spelling and unit of cells, orders and signs, from the data that
 * the readers use: for the data dictionary.
 *
 * @example everySpelling().some((s) => s.written.includes("none seen")) // true
 */
export function everySpelling(): AcceptedSpelling[] {
  return [
    ...acceptedSpellings(),
    ...orderSpellings().map(({ column, written, readAs }) => ({
      where: column,
      written: [written],
      readAs,
    })),
    ...signSpellings(),
  ];
}
