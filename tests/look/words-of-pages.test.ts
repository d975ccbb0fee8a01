import { beforeAll, describe, expect, it } from "vitest";
import { askCohort } from "../../src/analysis/ask-cohort.js";
import { askCurve } from "../../src/analysis/ask-curve.js";
import { askDay } from "../../src/analysis/ask-day.js";
import { askFeedingPlan } from "../../src/analysis/ask-feeding-plan.js";
import { askHandOver } from "../../src/analysis/ask-hand-over.js";
import { askReport } from "../../src/analysis/ask-report.js";
import { askSeasons } from "../../src/analysis/ask-seasons.js";
import { askSlowGainer } from "../../src/analysis/ask-slow-gainer.js";
import type { Chart } from "../../src/charts/chart.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { Study } from "../../src/records/study.js";
import { curvePage } from "../../src/report/animal/curve-page.js";
import { slowGainerPage } from "../../src/report/animal/slow-gainer-page.js";
import { dayPage } from "../../src/report/day/day-page.js";
import { feedingPlanPage } from "../../src/report/feeding/feeding-plan-page.js";
import { seasonReportPage } from "../../src/report/husbandry/season-report-page.js";
import { cohortPage } from "../../src/report/seasons/cohort-page.js";
import { seasonsPage } from "../../src/report/seasons/seasons-page.js";
import { remembering } from "../analysis/remembering.js";
import { bareIds } from "./bare-ids.js";
import { cautionsIn } from "./cautions-in.js";
import { jargonIn } from "./jargon.js";
import { demoStudyText, onlyAnimals, studyFiles } from "./study-text.js";
import { unlikeScales } from "./unlike-scales.js";
import { wordFaults } from "./word-faults.js";
import { wordsOf } from "./words-of-parts.js";
import { chartsIn, faultsIn, openParts, partsIn, reportWords, shown } from "./words-of-report.js";

const parsed = (text: ReturnType<typeof demoStudyText>): Study =>
  parseStudy([...studyFiles(text)].map(([path, of]) => ({ path, bytes: Buffer.from(of) })));

/** A few animals of the invented demo, of two seasons and both species. */
const few = [
  "O23-01",
  "O23-02",
  "O23-03",
  "O23-04",
  "O24-02",
  "O24-03",
  "O24-04",
  "O24-05",
  "S24-01",
  "S24-03",
];

describe("the words of every page", () => {
  let study: Study;
  beforeAll(() => {
    study = remembering(parsed(onlyAnimals(demoStudyText(), few)));
  });
  const onDay = "2024-05-20";
  const species = "sea otter";
  /** The pictures of the page that was asked for last. */
  let charts: Chart[] = [];
  let cautions: string[] = [];
  const partsOf = (page: object) => {
    charts = chartsIn(page);
    cautions = cautionsIn(page);
    return partsIn(page);
  };
  /** What stands open on a page, by its name: everything outside of folds. */
  const open = new Map<string, string[]>();
  const firstLayer = (name: string, page: object) => {
    open.set(name, openParts(page).flatMap(wordsOf));
    return partsOf(page);
  };
  const pages: Record<string, () => Promise<readonly string[]>> = {
    report: async () => {
      const words: string[] = [];
      open.set("report", words);
      return reportWords((await askReport(study)).value, words);
    },
    "hand-over and sheet on a day": async () => {
      const { value } = await askHandOver(study, { onDay });
      return [...shown(handOverPage(value, [])), ...shown(feedingSheet(value, []))];
    },
    day: async () =>
      partsOf(dayPage((await askDay(study, { onDay, curves: [] })).value)).flatMap(wordsOf),
    "slow gainer": async () => {
      const page = slowGainerPage((await askSlowGainer(study, { animal: "O24-02", onDay })).value);
      firstLayer("slow gainer", [...page.answer, ...page.open]);
      return partsOf(page).flatMap(wordsOf);
    },
    seasons: async () =>
      firstLayer(
        "seasons",
        seasonsPage((await askSeasons(study, { species, pair: ["2023", "2024"] })).value),
      ).flatMap(wordsOf),
    "feeding plan": async () =>
      partsOf(
        feedingPlanPage(
          (await askFeedingPlan(study, { onDay, forecastSpecies: species, targetG: 7000 })).value,
        ),
      ).flatMap(wordsOf),
    "season report": async () =>
      firstLayer(
        "season report",
        seasonReportPage(
          (await askReport(study, { curves: [], season: "2024", example: "O24-02" })).value,
        ),
      ).flatMap(wordsOf),
    curve: async () =>
      partsOf(
        curvePage((await askCurve(study, { animal: "O23-03", curves: ["gompertz"] })).value),
      ).flatMap(wordsOf),
    cohort: async () =>
      partsOf(
        cohortPage(
          (
            await askCohort(study, {
              species,
              curve: "gompertz",
              fromAgeD: 21,
              toAgeD: 84,
              newAnimal: "O23-01",
            })
          ).value,
        ),
      ).flatMap(wordsOf),
  };

  it.each(Object.keys(pages))(
    "%s: dates, plurals, numbers, codes, intervals, scales",
    async (name) => {
      charts = [];
      cautions = [];
      const words = await pages[name]!();
      expect(unlikeScales(charts, study.tables.animals)).toEqual([]);
      expect(words.length).toBeGreaterThan(20);
      expect(faultsIn(words)).toEqual([]);
      // Animals go by their names; an id stands in brackets after one.
      expect(bareIds(words, study.tables.animals)).toEqual([]);
      // Cautions once, where something is decided.
      expect(cautions).toEqual([...new Set(cautions)]);
      // The first layer speaks the reader's language.
      expect([...new Set((open.get(name) ?? []).flatMap(jargonIn))]).toEqual([]);
    },
  );
});

describe("what is read as a fault", () => {
  it.each([
    ["weighed 2024-05-20", "a date as files keep it"],
    ["05-20 06:40", "a date as files keep it"],
    ["1 weighings used", "a plural of one"],
    ["1 weighed days in the last 7 days", "a plural of one"],
    ["k is 7.855e-5 a day", "an exponent"],
    ["stopped: relative-offset", "a code"],
    ["37.8 degC", "a code"],
    ["gainGPerDay", "a code"],
    ["Brody has no rank: it could not be fitted (not-converged).", "a code"],
    ["The cohort's gompertz curve", "a code"],
    ["repeated vomit, 1 count", "a code"],
    ["the shape: 1.27 1", "a unit that is none"],
    ["No usable weighing for 3.99791666666667 days", "finer than anything is known"],
    ["p 0.000026", "finer than anything is known"],
    ["NaN g", "a broken value"],
    [`lists \${p.raw} of them`, "a broken value"],
    ["61 g/d (95 % 55 to 67)", "a second style of interval"],
    ["61 g/d (SE 3)", "a second style of interval"],
    ["61 ± 3 g/d", "a second style of interval"],
    ["10.43 kg", "a second style of interval"],
    ["a z of -2", "a hyphen for a minus"],
    ["Its intake fell", "neither eaten nor kept"],
    ["Energy per gain (kcal/g)", "neither eaten nor kept"],
    ["−19.2 (−88.8 to 53.7)", "a rounding that its interval does not bear"],
    ["487 g (372 to 602)", "a rounding that its interval does not bear"],
    ["61.23 kcal (55 to 67)", "a rounding that its interval does not bear"],
    ["0.0464 (0.0356 to 0.0573)", "a rounding that its interval does not bear"],
    ["gained 12.3 g/d more", "a figure finer than its unit"],
    ["0.27 %/d", "a figure finer than its unit"],
    ["far from the usual 25 to 25 %", "a range of one value"],
    [
      "No difference between A and B is shown: 12 g/d (3 to 21).",
      "not shown beside an interval without zero",
    ],
    [
      "It is not shown that A grew differently: −12 g/d (−21 to −3).",
      "not shown beside an interval without zero",
    ],
    ["The day of weaning cannot be told: 41 d (37 to 46).", "a refused figure is printed"],
    ["Gain not computed, 12 g/d (3 to 21).", "a refused figure is printed"],
  ])("%s", (text, fault) => {
    expect(wordFaults(text).map((each) => each.split(":")[0])).toEqual([fault]);
  });

  it.each([
    "17 g/d (13 to 22)",
    "490 g (370 to 600)",
    "20.0 (10.0 to 30.0)",
    "0.046 (0.036 to 0.057)",
    "3 of 12 animals (9 to 30 days)",
    "22 to 27 Mar 2024",
    "1 weighing",
    "11 weighings",
    "“2024-05-20” in the file",
    "3 of 1 is",
    "−2.1 %/d",
    "O24-02",
    "10 435 g",
    "Energy kept per gain (kcal/g)",
    "910 to 950 kcal/d",
    "No difference between A and B is shown: 12 g/d (−3 to 27).",
    "No difference between A and B is shown: 12 g/d (3 to 21), corrected for three pairs.",
    "A gained 12 g/d (3 to 21) more. The day of weaning cannot be told.",
  ])("not %s", (text) => {
    expect(wordFaults(text)).toEqual([]);
  });
});
