import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeHandOver } from "../../src/publish/write-hand-over.js";
import { writeReport } from "../../src/publish/write-report.js";
import { readStudy } from "../../src/records/files/read-study.js";

/**
 * Names and notes as they come: control characters, other scripts, both directions,
 * halves of characters, names that an operating system keeps for itself, markup, and
 * texts so long that work which grows with their square would not end before the
 * test's own time is up (20,000 letters took over 150 s).
 */
const long = 20_000;
const names = [
  "con",
  "海獭".repeat(40),
  "bell\u0007 and nul\u0000",
  "\u202Ereversed",
  "أمواج",
  "😀👩‍🚀",
  "\uD800half",
  "aux.txt",
  "a/b\\c",
  "..",
  "<script>alert(1)</script>",
  "=1+1",
];
const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "gramline-text-"));
  const study = join(folder, "study");
  mkdirSync(study);
  const file = (name: string, lines: readonly string[]) =>
    writeFileSync(join(study, name), `${lines.join("\n")}\n`);
  const days = Array.from({ length: 16 }, (_, i) => `2025-03-${String(i + 1).padStart(2, "0")}`);
  writeFileSync(
    join(study, "study.json"),
    JSON.stringify({
      title: `Bell \u0007 ${"t".repeat(long)}`,
      species: ["sea otter"],
      zone: "Europe/Berlin",
    }),
  );
  file("animals.csv", [
    "animal_id,name,species,notes",
    ...names.map((name, i) => `A${i},${quoted(name)},sea otter,${"n".repeat(2 * long)}`),
    `A98,${"x".repeat(long)},sea otter,`,
    `A99,${"two words ".repeat(long / 10)},sea otter,`,
  ]);
  const ids = [...names.map((_, i) => `A${i}`), "A98", "A99"];
  file("weighings.csv", [
    "animal_id,at,mass_g,notes",
    ...ids.flatMap((id, i) =>
      days.map(
        (day, k) =>
          `${id},${day} 06:00,${2000 + 18 * k + i},${k === 3 ? "w ".repeat(long) : quoted(names[k % names.length]!)}`,
      ),
    ),
  ]);
  file("observations.csv", [
    "animal_id,at,kind,value,unit,notes",
    ...ids.flatMap((id, i) => [
      `${id},2025-03-16 10:00,note,${"v".repeat(long)},,${"z ".repeat(long)}`,
      `${id},2025-03-16 11:00,stool,${quoted(names[i % names.length]!)},,${"a-".repeat(long)}`,
    ]),
  ]);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What neither HTML nor XML 1.0 allows in a document (XML 1.0, production 2). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for.
const forbidden = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Cs}/u;
/** Names that Windows keeps for itself, with any ending; and what no file name there may hold. */
const reserved = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)|[<>:"\\|?*]|[. ]$/i;

describe("text as it comes", () => {
  it("is read whole: every row is accepted or set aside", async () => {
    const study = await readStudy(join(folder, "study"));
    for (const { rowsIn, accepted, setAside } of study.counts)
      expect(accepted + setAside).toBe(rowsIn);
    expect(study.tables.animals.length + study.setAside.length).toBeGreaterThanOrEqual(14);
  });

  it("survives on pages, in the document, in the workbook and in file names", async () => {
    const out = join(folder, "out");
    await writeHandOver(join(folder, "study"), {
      out: join(out, "hand-over.html"),
      sheet: join(out, "sheet.html"),
    });
    await writeReport(join(folder, "study"), { out: join(out, "report"), date: "2026-01-31" });
    let checked = 0;
    for (const entry of readdirSync(out, { recursive: true, withFileTypes: true })) {
      expect(entry.name, entry.name).not.toMatch(reserved);
      expect(Buffer.byteLength(entry.name), entry.name).toBeLessThanOrEqual(255);
      if (!entry.isFile()) continue;
      const bytes = new Uint8Array(readFileSync(join(entry.parentPath, entry.name)));
      const parts = /\.(docx|xlsx)$/.test(entry.name)
        ? Object.entries(unzipSync(bytes)).filter(([part]) => /\.(xml|rels)$/.test(part))
        : [[entry.name, bytes] as const];
      for (const [part, data] of parts) {
        // A CSV file hands on what was written, as a file for programs.
        if (!/\.(html|xml|rels|svg)$/.test(part)) continue;
        const text = strFromU8(data);
        const at = forbidden.exec(text);
        expect(at === null ? "" : `${part}: ${JSON.stringify(at[0])}`, part).toBe("");
        // What would be markup in a name is text.
        if (/\.html$/.test(part)) expect(text.includes("<script>alert(1)")).toBe(false);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(20);
    const handOver = readFileSync(join(out, "hand-over.html"), "utf8");
    for (let i = 0; i < names.length; i++) expect(handOver).toMatch(new RegExp(`\\bA${i}\\b`));
  });
});
