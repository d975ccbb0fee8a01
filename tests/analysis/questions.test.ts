import { beforeAll, describe, expect, it } from "vitest";
import { askCohort } from "../../src/analysis/ask-cohort.js";
import { askCurve } from "../../src/analysis/ask-curve.js";
import { askDay } from "../../src/analysis/ask-day.js";
import { askFeedingPlan } from "../../src/analysis/ask-feeding-plan.js";
import { askHandOver } from "../../src/analysis/ask-hand-over.js";
import { askRecords } from "../../src/analysis/ask-records.js";
import { askReport } from "../../src/analysis/ask-report.js";
import { askSeasons } from "../../src/analysis/ask-seasons.js";
import { askSlowGainer } from "../../src/analysis/ask-slow-gainer.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { Study } from "../../src/records/study.js";
import { curvePage } from "../../src/report/animal/curve-page.js";
import { slowGainerPage } from "../../src/report/animal/slow-gainer-page.js";
import { dayPage } from "../../src/report/day/day-page.js";
import { feedingPlanPage } from "../../src/report/feeding/feeding-plan-page.js";
import { seasonReportPage } from "../../src/report/husbandry/season-report-page.js";
import { cohortPage } from "../../src/report/seasons/cohort-page.js";
import { seasonsPage } from "../../src/report/seasons/seasons-page.js";
import { notPlain } from "../core/plain-data.js";
import { demoStudyText, onlyAnimals, studyFiles } from "../look/study-text.js";
import { remembering } from "./remembering.js";

/** A few animals of the invented demo, of two seasons: enough for every question. */
const few = ["O23-01", "O23-02", "O23-03", "O23-04", "O24-02", "O24-03", "O24-04", "O24-05"];

describe("a reader's question", () => {
  let study: Study;
  beforeAll(() => {
    const files = [...studyFiles(onlyAnimals(demoStudyText(), few))];
    study = remembering(
      parseStudy(files.map(([path, text]) => ({ path, bytes: Buffer.from(text) }))),
    );
  });
  const onDay = "2024-05-20";
  const species = "sea otter";
  const questions: Record<string, () => Promise<readonly [unknown, object]>> = {
    records: async () => [askRecords(study), {}],
    day: async () => {
      const answer = await askDay(study, { onDay, curves: [] });
      return [answer, dayPage(answer.value)];
    },
    "hand-over": async () => [await askHandOver(study, { onDay }), {}],
    "slow gainer": async () => {
      const answer = await askSlowGainer(study, { animal: "O24-02", onDay });
      return [answer, slowGainerPage(answer.value)];
    },
    seasons: async () => {
      const answer = await askSeasons(study, { species, pair: ["2023", "2024"] });
      return [answer, seasonsPage(answer.value)];
    },
    "feeding plan": async () => {
      const answer = await askFeedingPlan(study, {
        onDay,
        forecastSpecies: species,
        targetG: 7000,
      });
      return [answer, feedingPlanPage(answer.value)];
    },
    report: async () => {
      const answer = await askReport(study, { curves: [], season: "2024", example: "O24-02" });
      return [answer, seasonReportPage(answer.value)];
    },
    curve: async () => {
      const answer = await askCurve(study, { animal: "O23-03", curves: ["gompertz"] });
      return [answer, curvePage(answer.value)];
    },
    cohort: async () => {
      const options = { fromAgeD: 21, toAgeD: 84, newAnimal: "O23-01" };
      const answer = await askCohort(study, { species, curve: "gompertz", ...options });
      return [answer, cohortPage(answer.value)];
    },
  };

  it.each(Object.keys(questions))(
    "about the %s is one plain result, and so is its page",
    async (name) => {
      const [answer, page] = await questions[name]!();
      for (const each of [answer, page]) {
        // Plain data: nothing is lost or changed on the way through text.
        expect(notPlain(each)).toEqual([]);
      }
      expect(answer).toMatchObject({ kind: expect.stringMatching(/^ask-/), schema: 1 });
      const parts = Object.entries(page);
      if (!["records", "hand-over"].includes(name)) expect(parts.length).toBeGreaterThan(5);
    },
  );

  it("about an animal that is not there names the nearest, before anything else is computed", async () => {
    const never = {
      onProgress: () => {
        throw new Error("something was computed");
      },
    };
    const wrong = askSlowGainer(study, { animal: "O24-O2", onDay, ...never });
    await expect(wrong).rejects.toThrow(/Is O24-02 meant/);
    await expect(askCurve(study, { animal: "O23-99", ...never })).rejects.toThrow(
      /"O23-99" is none of the animals/,
    );
  });
});
