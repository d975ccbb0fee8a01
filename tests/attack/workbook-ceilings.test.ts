import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { sizeLimits } from "../../src/core/size-limits.js";
import type { openWorkbookApart as OpenWorkbook } from "../../src/records/files/open-workbook-apart.js";

/**
 * A workbook that asks for more memory or time than its reader may have is refused by
 * name; the process that asked goes on. As built, since that is what people run.
 */
const built = fileURLToPath(
  new URL("../../dist/records/files/open-workbook-apart.js", import.meta.url),
);

interface Workbooks {
  readonly utils: {
    aoa_to_sheet(rows: readonly (readonly number[])[]): unknown;
    book_new(): unknown;
    book_append_sheet(book: unknown, sheet: unknown, name: string): void;
  };
  write(book: unknown, options: object): Buffer;
}

/** A sheet of so many different numbers: little on disk, much when opened. */
function workbookOf(cells: number): Uint8Array {
  const xlsx = createRequire(import.meta.url)("@e965/xlsx") as Workbooks;
  const rows = Array.from({ length: cells / 20 }, (_, i) =>
    Array.from({ length: 20 }, (_, j) => i * 20 + j),
  );
  const book = xlsx.utils.book_new();
  xlsx.utils.book_append_sheet(book, xlsx.utils.aoa_to_sheet(rows), "weighings");
  return new Uint8Array(xlsx.write(book, { type: "buffer", bookType: "xlsx" }));
}

describe.skipIf(!existsSync(built))("a workbook", async () => {
  const { openWorkbookApart } = (await import(built)) as { openWorkbookApart: typeof OpenWorkbook };
  const bytes = workbookOf(60_000);
  const refusal = (limits: Partial<typeof sizeLimits>) =>
    openWorkbookApart("records.xlsx", bytes, { ...sizeLimits, ...limits }).then(
      () => "opened",
      (error: Error) => `${error.name}: ${error.message}`,
    );

  it("over the ceiling of memory is refused by name, and the next one opens", async () => {
    expect(await refusal({ workbookMegabytes: 16 })).toMatch(
      /^UsageError: records\.xlsx: needed .*16 MB.*it needs more.*Save the sheet as CSV/s,
    );
    expect(await refusal({})).toBe("opened");
  });

  it("over the ceiling of time is refused by name", async () => {
    expect(await refusal({ workbookSeconds: 0.02 })).toMatch(
      /^UsageError: records\.xlsx: .*within 0\.02 s/,
    );
  });

  it("over the ceiling of cells is refused by name", async () => {
    expect(await refusal({ workbookCells: 30_000 })).toMatch(
      /^UsageError: records\.xlsx: needed .*cells/,
    );
  });
});
