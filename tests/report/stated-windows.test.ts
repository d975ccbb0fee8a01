import { beforeAll, describe, expect, it } from "vitest";
import { askReport } from "../../src/analysis/ask-report.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { animalPage } from "../../src/report/animal/animal-page.js";
import { gainPicture } from "../../src/report/animal/gain-picture.js";
import { timelinePicture } from "../../src/report/animal/timeline-picture.js";
import { dayBoard } from "../../src/report/day/day-board.js";
import { gainsPictures } from "../../src/report/day/gains-picture.js";
import { gainsTable } from "../../src/report/day/gains-table.js";
import { answersSection } from "../../src/report/husbandry/answers-section.js";
import { blockText, sectionText } from "../../src/report/section/plain-text.js";
import { dullStudy } from "../records/corpus/dull-study.js";

/** Everywhere a page says over how many days a gain was taken. */
async function gainsSaid(gainDays?: number): Promise<string> {
  const inputs = Object.entries(dullStudy()).map(([path, text]) => ({
    path,
    bytes: Buffer.from(text),
  }));
  const { value } = await askReport(parseStudy(inputs), {
    curves: [],
    ...(gainDays === undefined ? {} : { gainDays }),
  });
  const analysis = value.analysis.value;
  const animal = analysis.animals[0]!;
  const standing = {
    level: value.levels.find((l) => l.animalId === animal.animalId)!,
    shift: value.shift!.animals.find((a) => a.animalId === animal.animalId)!,
  };
  const text = [
    blockText(gainsTable(analysis)),
    ...gainsPictures(analysis, ["sea otter"]).map((c) => `${JSON.stringify(c.spec)}\n${c.caption}`),
    JSON.stringify(timelinePicture(analysis, animal).spec),
    JSON.stringify(dayBoard(value).columns),
    sectionText(answersSection(value, "records.html")),
    gainPicture(analysis, animal).caption,
    ...animalPage(analysis, animal, standing).sections.map((s) => sectionText(s)),
  ].join("\n");
  return (
    text.match(/[^.;|\n"]*(?:gain|masses) (?:over|of) (?:the )?(?:last )?\d+ days?/gi) ?? []
  ).join("\n");
}

describe("a text that states the days of a gain", () => {
  let usual: string;
  let longer: string;
  beforeAll(async () => {
    usual = await gainsSaid();
    longer = await gainsSaid(14);
  });

  it("states those that were asked for", () => {
    expect(usual.split("\n").length).toBeGreaterThanOrEqual(6);
    expect(longer.split("\n").length).toBe(usual.split("\n").length);
    expect(usual).not.toMatch(/\b14 days/);
    expect(longer).not.toMatch(/\b7 days/);
    expect(longer.replaceAll("14 days", "7 days").match(/7 days/g)).toEqual(usual.match(/7 days/g));
  });
});
