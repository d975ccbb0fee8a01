import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { askReport } from "../../src/analysis/ask-report.js";
import { dayPage } from "../../src/publish/day-page.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { escapeHtml } from "../../src/report/renderers/page/escape.js";
import { reportPage } from "../../src/report/renderers/page/report-page.js";
import { screenWording } from "../../src/units/format.js";
import { jargonIn } from "./jargon.js";
import { namesByScript } from "./odd-names.js";
import { oddStudies } from "./odd-studies.js";
import { structureFaults } from "./page-structure.js";
import { demoStudyText, shiftDays, studyFiles } from "./study-text.js";
import { faultsIn, reportOf, reportWords } from "./words-of-report.js";

/** The pages of an odd study, made once for all who look at them. */
const pagesOf = (name: string) => {
  const found = made.get(name) ?? makePages(name);
  made.set(name, found);
  return found;
};
const made = new Map<string, ReturnType<typeof makePages>>();

/** The report, the hand-over and one animal's page of an odd study, and its animals as written. */
async function makePages(name: string): Promise<{
  readonly report: string;
  readonly handOver: string;
  readonly day: string;
  readonly sheet: string;
  readonly animal: string;
  readonly labels: readonly string[];
  /** Every word of report, hand-over, sheet and day, and what of it stands open. */
  readonly words: readonly string[];
  readonly open: readonly string[];
}> {
  const folder = mkdtempSync(join(tmpdir(), "odd-study-"));
  try {
    for (const [file, text] of studyFiles(oddStudies[name]!())) {
      writeFileSync(join(folder, file), text);
    }
    // Curves take most of the time and look alike in every study.
    const ages = "21-63";
    const answer = (await askReport(await readStudy(folder), { curves: [], ages, seed: 1 })).value;
    const built = reportOf(answer);
    const { value } = answer.analysis;
    const open: string[] = [];
    const page = (title: string, sections: Parameters<typeof reportPage>[0]["sections"]) =>
      reportPage({
        title,
        under: "Report",
        foot: "Foot",
        sections,
        wording: screenWording(value.settings.zone),
      });
    const last = built.animals.at(-1)!;
    return {
      report: page(built.title, built.sections),
      handOver: handOverPage(answer, [{ href: "index.html", text: "All animals today" }]),
      day: dayPage(answer, { recordsHref: "records.html" }),
      sheet: feedingSheet(answer, []),
      animal: reportPage({
        title: last.title,
        under: "",
        foot: "Foot",
        lead: last.lead,
        sections: last.sections,
        contents: false,
        wording: screenWording(value.settings.zone),
      }),
      labels: built.animals.map((a) => a.title),
      words: reportWords(answer, open),
      open,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

// Each takes as long as a report. The others by `ODD_STUDIES=all`, as `.ci/run` does.
const always = ["one-animal", "long-names", "other-scripts", "no-feeds", "one-weighing"];
const others = [
  "no-observations",
  "no-plans",
  "empty-season",
  "all-in-danger",
  "all-dead",
  "begun-yesterday",
  "seals-in-the-fast",
];
const looked = process.env["ODD_STUDIES"] === "all" ? [...always, ...others] : always;

describe.each(looked)("the pages of the study %s", (name) => {
  let pages: Awaited<ReturnType<typeof pagesOf>>;
  beforeAll(async () => {
    pages = await pagesOf(name);
  });

  it("lack nothing that a keyboard or a screen reader needs", () => {
    const { report, handOver, day, sheet, animal } = pages;
    for (const page of [report, handOver, day, sheet, animal]) {
      expect(structureFaults(page)).toEqual([]);
    }
  });

  it("keep what stands open on an animal's page under 450 words", () => {
    // Questions of one's own, orders, signs and doubts included: the budget is for what is always there.
    let page = pages.animal.slice(pages.animal.indexOf("<main"), pages.animal.indexOf("</main>"));
    // Folds lie inside folds: the innermost go first.
    for (let before = ""; before !== page; ) {
      before = page;
      page = page.replace(/<details\b(?:(?!<details\b)[\s\S])*?<\/details>/g, " ");
    }
    const open = page.replace(/<(script|style)[\s\S]*?<\/\1>/g, " ").replace(/<[^>]*>/g, " ");
    const words = open.split(/\s+/).filter((word) => word !== "");
    expect(words.length).toBeGreaterThan(40);
    expect(words.length).toBeLessThanOrEqual(450);
  });

  // Where names and seasons are whole sentences, their words are not the page's.
  if (name !== "long-names")
    it("write dates, plurals, numbers, codes and intervals as people do", () => {
      expect(pages.words.length).toBeGreaterThan(20);
      expect(faultsIn(pages.words)).toEqual([]);
      expect([...new Set(pages.open.flatMap(jargonIn))]).toEqual([]);
    });

  it("name every animal in full", () => {
    expect(pages.labels.length).toBeGreaterThan(0);
    const words = pages.report.replaceAll(/<[^>]*>/g, "");
    for (const label of pages.labels) expect(words).toContain(escapeHtml(label));
  });
});

describe("pictures of long names", () => {
  it("are no wider than the page, whatever the animals are called", async () => {
    const { report, animal } = await pagesOf("long-names");
    const widths = [...`${report}${animal}`.matchAll(/<svg [^>]*\bwidth="([\d.]+)"/g)].map((m) =>
      Number(m[1]),
    );
    expect(widths.length).toBeGreaterThan(3);
    // The page holds 74 rem of 16 px less its margins.
    expect(Math.max(...widths)).toBeLessThan(1100);
  });
});

describe("odd studies", () => {
  it("hold what their names say", () => {
    const of = (name: string) => oddStudies[name]!().tables;
    expect(of("sixty-animals")["animals"]!.rows).toHaveLength(60);
    expect(new Set(of("sixty-animals")["animals"]!.rows.map((r) => r["name"])).size).toBe(60);
    expect(of("one-animal")["animals"]!.rows).toHaveLength(1);
    expect(of("no-feeds")["feeds"]).toBeUndefined();
    expect(of("no-animal")["animals"]!.rows).toHaveLength(0);
    const once = of("one-weighing")["weighings"]!.rows.filter((r) => r["animal_id"] === "O24-07");
    expect(once).toHaveLength(1);
    for (const row of of("long-names")["animals"]!.rows) expect(row["name"]).toHaveLength(80);
    const names = of("other-scripts")["animals"]!.rows.map((r) => r["name"]);
    expect(new Set(names)).toEqual(new Set(namesByScript.map((each) => each.name)));
  });

  it("move dates by whole days, over a leap day too", () => {
    expect(shiftDays("2024-02-28 06:10", 2)).toBe("2024-03-01 06:10");
    expect(shiftDays("asleep", 2)).toBe("asleep");
  });

  it("come from the demo study as it is", () => {
    const { tables } = demoStudyText();
    expect(tables["animals"]!.rows.length).toBeGreaterThan(40);
  });
});

describe("what is demanded of a page", () => {
  const page = (inner: string) =>
    `<html lang="en"><title>t</title><body>\n<a class="skip" href="#content">Skip</a><main id="content"><h1>a</h1>${inner}</main></body></html>`;

  it("is met by a plain page and names each fault", () => {
    expect(structureFaults(page(""))).toEqual([]);
    for (const [fault, words] of [
      ["<h3>b</h3>", /skips a level/],
      ["<table><tr><th>x</th></tr></table>", /no name[\s\S]*no scope/],
      [
        "<table><caption>c</caption><tr><td>1</td></tr><tr><td>1</td><td>2</td></tr></table>",
        /differ/,
      ],
      ["<svg><path/></svg>", /picture has no words/],
      ['<div tabindex="0">x</div>', /no name/],
      ['<a href="x"></a>', /without words/],
      ['<i id="x"></i><i id="x"></i>', /stands twice/],
      ["<p>NaN g</p>", /broken value/],
    ] as const) {
      expect(structureFaults(page(fault)).join("\n")).toMatch(words);
    }
  });
});
