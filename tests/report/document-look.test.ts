import { strFromU8, unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { reportDocument } from "../../src/report/renderers/document/report-document.js";
import { intervalParts } from "../../src/report/section/interval-parts.js";
import { caution, list, section, table } from "../../src/report/section/section.js";

/** The words of the document as WordprocessingML (ECMA-376, part 1, chapter 17). */
async function wordXml(): Promise<string> {
  const bytes = await reportDocument({
    title: "A study",
    under: "Report",
    foot: "Foot",
    date: "2026-01-31",
    sections: [
      section("Animals", [
        { kind: "lead", where: [], headline: "Mica: 4 g/d (−8 to 15) by 2 May 2025.", under: null },
        caution("Ask before 06:00: 12 g are missing."),
        list(["weighed 16 Jul 2025, 31 °C"]),
        table(
          "animals",
          "Animals.",
          [{ title: "Animal" }, { title: "Born" }, { title: "Gain" }],
          [["みなと (O24-01)", "2024-02-01 to 2024-02-03", "93.7 (95 % 45.3 to 142)"]],
        ),
      ]),
    ],
  });
  return strFromU8(unzipSync(bytes)["word/document.xml"]!);
}

describe("a Word document", () => {
  it("keeps dates and intervals in one line, other scripts as they are", async () => {
    const xml = await wordXml();
    expect(xml.match(/<w:noBreakHyphen\/>/g)).toHaveLength(4);
    expect(xml).toContain("(95\u00a0%\u00a045.3\u00a0to\u00a0142)");
    // A hyphen in a name is a place to break.
    expect(xml).toContain("みなと (O24-01)");
  });

  it("breaks no line between a number and its unit or inside a date, as the pages do", async () => {
    const xml = await wordXml();
    expect(xml).toContain("4\u00a0g/d (−8\u00a0to\u00a015) by 2\u00a0May\u00a02025");
    expect(xml).toContain("12\u00a0g are");
    expect(xml).toContain("16\u00a0Jul\u00a02025, 31\u00a0°C");
  });

  it("keeps a heading with what follows it", async () => {
    const xml = await wordXml();
    const heading = /<w:p>(?:(?!<\/w:p>).)*Animals<\/w:t>/.exec(xml)![0];
    expect(heading).toContain("<w:keepNext/>");
  });
});

describe("intervalParts", () => {
  it("finds a number with its interval and nothing else", () => {
    expect(intervalParts("0.0139 1/d (0.0137 to 0.0141)")).toEqual([
      "0.0139 1/d",
      "(0.0137 to 0.0141)",
    ]);
    expect(intervalParts("−12.2 (95 % −16.4 to −8)")).toEqual(["−12.2", "(95 % −16.4 to −8)"]);
    for (const other of ["Pimmer (O24-01)", "–", "12", "3 (a) (b)", ""])
      expect(intervalParts(other)).toBeNull();
  });
});
