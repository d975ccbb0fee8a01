import { unitSpellings } from "../units/quantity.js";
import { roughDates } from "../units/read-rough-date.js";
import { cellWords } from "./cell-words.js";
import { tableColumns } from "./columns.js";

/** A way of writing that is understood, for the data dictionary and the README. */
export interface AcceptedSpelling {
  /** In which cells. */
  readonly where: string;
  readonly written: readonly string[];
  readonly readAs: string;
}

/**
 * Every spelling that the reader of cells accepts, from the lists that it uses
 * itself: words for unknown, none and errors, rough dates, units, choices.
 *
 * @example acceptedSpellings().find((s) => s.written.includes("#REF!"))?.readAs
 */
export function acceptedSpellings(): AcceptedSpelling[] {
  const choices = new Map<string, AcceptedSpelling>();
  for (const columns of Object.values(tableColumns))
    for (const { name, alsoWritten = {} } of columns)
      for (const [written, choice] of Object.entries(alsoWritten)) {
        const key = `${name}|${choice}`;
        const known = choices.get(key)?.written ?? [];
        choices.set(key, {
          where: name,
          written: known.includes(written) ? known : [...known, written],
          readAs: choice,
        });
      }
  return [
    ...cellWords.map(({ meaning, becomes, spellings }) => ({
      where: meaning === "none" ? "refused_g, tare_g" : "any cell but notes and values",
      written: spellings,
      readAs: `${meaning}; ${becomes}`,
    })),
    ...roughDates.map(({ written, readAs }) => ({
      where: "birth dates",
      written: [written],
      readAs,
    })),
    ...unitSpellings()
      .filter(({ dimension }) => dimension === "mass" || dimension === "volume")
      .map(({ unit, spellings }) => ({
        where: "after a number, or in a heading",
        written: spellings,
        readAs: unit,
      })),
    ...choices.values(),
  ];
}
