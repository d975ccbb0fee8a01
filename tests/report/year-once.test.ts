import { strFromU8, unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { reportDocument } from "../../src/report/renderers/document/report-document.js";
import { reportPage } from "../../src/report/renderers/page/report-page.js";
import {
  fold,
  list,
  type Section,
  section,
  table,
  text,
} from "../../src/report/section/section.js";

/** Dates of one year wherever a page can have them; another year and a season's name stay. */
const sections: readonly Section[] = [
  section("Answers", [
    {
      kind: "lead",
      where: ["A nursery", "16 Jul 2025", "records up to 17 Jul 2025 04:55"],
      headline: "Since 27 Jun 2025 it gains less.",
      under: "Until 3 Jul 2025 it gained.",
    },
    {
      kind: "questions",
      answers: [{ question: "When?", answer: "On 4 Jul 2025.", strength: "fair" }],
    },
    text("Born on 2 May 2025, its mother on 3 May 2019."),
    list(["Seen on 5 Jul 2025."]),
    fold("More", [
      table("t", "From 6 Jul 2025", [{ title: "Day" }], [["7 Jul 2025"], ["season 2025"]]),
    ]),
  ]),
];
const foot = "Report of 17 Jul 2025.";
const dated = (words: string) => words.match(/\d{1,2}[ \u00a0][A-Z][a-z]{2}[ \u00a0]2025/g) ?? [];
const wordsOf = (markup: string) =>
  markup.replace(/<(style|script)[\s\S]*?<\/\1>/g, "").replace(/<[^>]*>/g, " ");

describe("the year of the day", () => {
  it.each([
    "Husbandry report of 17 Jul 2025",
    "Report of 1 Jan 2026. Records end at 17 Jul 2025 04:55",
    "Report of 1 Jan 2026",
  ])("stands once on a page that begins with %s", (under) => {
    const page = wordsOf(reportPage({ title: "A nursery", under, foot, sections, year: "2025" }));
    expect(dated(page)).toHaveLength(1);
    expect(page).toContain("3\u00a0May\u00a02019");
    expect(page).toContain("season 2025");
  });

  it("stands once on an animal's page", () => {
    const [first] = sections;
    const lead = first!.blocks[0] as Extract<Section["blocks"][number], { kind: "lead" }>;
    const page = reportPage({
      title: "Mica",
      under: "not shown",
      foot,
      lead,
      sections: [{ ...first!, blocks: first!.blocks.slice(1) }],
      year: "2025",
    });
    expect(dated(wordsOf(page))).toHaveLength(1);
  });

  it("stands once in Word, tables and foot included", async () => {
    const bytes = await reportDocument({
      title: "A nursery",
      under: "Report of 1 Jan 2026. Records end at 17 Jul 2025 04:55",
      foot,
      date: "2026-01-01",
      sections,
      year: "2025",
    });
    const parts = unzipSync(bytes);
    const words = Object.keys(parts)
      .filter((name) => /word\/(?:document|footer\d*)\.xml$/.test(name))
      .map((name) => wordsOf(strFromU8(parts[name]!)))
      .join(" ");
    expect(dated(words)).toHaveLength(1);
  });
});
