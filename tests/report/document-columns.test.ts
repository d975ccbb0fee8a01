import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  columnsOnPage,
  pageDxa,
  shownText,
} from "../../src/report/renderers/document/document-columns.js";
import { table } from "../../src/report/section/section.js";

/** A regular letter of the document's type (Arial) is about half an em; em = half the half points. */
const letterDxa = (size: number) => (size / 2) * 20 * 0.5;

describe("columns of a Word table", () => {
  const word = fc.string({ unit: fc.constantFrom(..."abcdefgh"), minLength: 1, maxLength: 24 });
  const words = fc.array(word, { minLength: 1, maxLength: 6 }).map((each) => each.join(" "));
  const tables = fc
    .integer({ min: 1, max: 22 })
    .chain((n) =>
      fc.record({
        titles: fc.array(words, { minLength: n, maxLength: n }),
        rows: fc.array(fc.array(words, { minLength: n, maxLength: n }), {
          minLength: 1,
          maxLength: 4,
        }),
      }),
    )
    .map(({ titles, rows }) =>
      table(
        "t",
        "t",
        titles.map((title) => ({ title })),
        rows,
      ),
    );

  it("are as wide as their longest word, on the page, each shown once beside the first", () => {
    fc.assert(
      fc.property(tables, (each) => {
        const pieces = columnsOnPage(each);
        const shown = pieces.flatMap((p) => p.columns.filter((c) => c !== 0));
        expect(shown).toEqual(each.columns.map((_, at) => at).slice(1));
        for (const piece of pieces) {
          expect(piece.columns[0]).toBe(0);
          expect(piece.widths.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(pageDxa);
          piece.columns.forEach((at, i) => {
            const column = each.columns[at]!;
            const texts = [column.title, ...each.rows.map((r) => shownText(r[at]!, column))];
            const longest = Math.max(...texts.flatMap((t) => t.split(" ").map((w) => w.length)));
            expect(piece.widths[i]).toBeGreaterThanOrEqual(longest * letterDxa(piece.size));
          });
        }
      }),
      { numRuns: 150, seed: 20261127 },
    );
  });
});
