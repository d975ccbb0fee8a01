import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { changeOfShift } from "../../src/analysis/change-of-shift.js";
import { levelsOfDay } from "../../src/analysis/levels-of-day.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { planShift } from "../../src/planning/plan-shift.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { animalPage } from "../../src/report/animal/animal-page.js";
import { gainPicture } from "../../src/report/animal/gain-picture.js";
import { gainsPicture } from "../../src/report/day/gains-picture.js";
import { gainsTable } from "../../src/report/day/gains-table.js";
import { blockText, sectionText } from "../../src/report/section/plain-text.js";
import { dullStudy } from "../records/corpus/dull-study.js";

/** Everywhere a page says over how many days a gain was taken. */
async function gainsSaid(gainDays?: number): Promise<string> {
  const inputs = Object.entries(dullStudy()).map(([path, text]) => ({
    path,
    bytes: Buffer.from(text),
  }));
  const options = gainDays === undefined ? {} : { gainDays };
  const analysis: StudyAnalysis = (await analyse(parseStudy(inputs), { curves: [], ...options }))
    .value;
  const animal = analysis.animals[0]!;
  const until = changeOfShift(analysis)!;
  const levels = levelsOfDay(analysis, { at: until });
  const shift = planShift(analysis.series, { until, levels });
  const standing = {
    level: levels.find((l) => l.animalId === animal.animalId)!,
    shift: shift.animals.find((a) => a.animalId === animal.animalId)!,
  };
  const text = [
    blockText(gainsTable(analysis)),
    JSON.stringify(gainsPicture(analysis).spec),
    gainPicture(analysis, animal).caption,
    ...animalPage(analysis, animal, standing).sections.map((s) => sectionText(s)),
  ].join("\n");
  return (text.match(/[^.;|\n"]*(?:gain|masses) over (?:the last )?\d+ days?/gi) ?? []).join("\n");
}

describe("a text that states the days of a gain", () => {
  let usual: string;
  let longer: string;
  beforeAll(async () => {
    usual = await gainsSaid();
    longer = await gainsSaid(14);
  });

  it("states those that were asked for", () => {
    expect(usual.split("\n").length).toBeGreaterThanOrEqual(3);
    expect(longer.split("\n").length).toBe(usual.split("\n").length);
    expect(usual).not.toMatch(/\b14 days/);
    expect(longer).not.toMatch(/\b7 days/);
    expect(longer.replaceAll("14 days", "7 days").match(/7 days/g)).toEqual(usual.match(/7 days/g));
  });
});
