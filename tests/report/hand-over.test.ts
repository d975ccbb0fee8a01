import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { handOverSection, handOverSections } from "../../src/report/hand-over.js";
import { sectionText } from "../../src/report/plain-text.js";

/**
 * An invented pup with feeds around the edges of 24 hours. Expected sums by
 * hand: within (10 May 20:00, 11 May 20:00] lie the feeds of 23:00, 08:00 and
 * 20:00; 60 + 70 + 80 = 210 g offered; refused 10, 0 and one not written.
 */
const files = {
  "study.json": JSON.stringify({
    title: "Shift",
    species: ["sea otter"],
    zone: "America/Vancouver",
    feeding_day_start_hour: 6,
    date_style: "year-month-day",
    decimal: "point",
  }),
  "animals.csv":
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome\n" +
    "P1,Mica,sea otter,female,2025-05-01,2025-05-01,observed,2025-05-03 10:00,2025,in care\n",
  "weighings.csv":
    "animal_id,at,mass_g,tare_g,method,coat,meal\n" +
    "P1,2025-05-10 09:00,2000,0,platform,dry,before\n" +
    "P1,2025-05-11 09:00,2040,0,platform,dry,before\n",
  "feeds.csv":
    "animal_id,at,diet_id,offered_g,refused_g,route\n" +
    "P1,2025-05-10 20:00,milk,50,0,bottle\n" +
    "P1,2025-05-10 23:00,milk,60,10,bottle\n" +
    "P1,2025-05-11 08:00,milk,70,0,bottle\n" +
    "P1,2025-05-11 20:00,milk,80,,bottle\n",
  "diets.csv": "diet_id,name,kind,energy_kcal_per_g\nmilk,Formula A,formula,1.2\n",
  "plans.csv":
    "animal_id,from,to,diet_id,g_per_feed,feeds_per_day\nP1,2025-05-05 06:00,,milk,50,8\n",
  "observations.csv":
    "animal_id,at,kind,value,unit,notes\n" +
    "P1,2025-05-10 12:00,stool,soft,,before the shift\n" +
    "P1,2025-05-11 12:00,stool,firm,,in the shift\n" +
    "P1,2025-05-11 13:00,temperature,37.4,degC,\n",
};

let analysis: StudyAnalysis;
beforeAll(async () => {
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  analysis = (await analyse(parseStudy(inputs), { onDay: "2025-05-11" })).value;
});

describe("the hand-over of one animal", () => {
  const words = () =>
    handOverSections(analysis)
      .map((each) => sectionText(each))
      .join("\n");

  it("counts what lies in the 24 hours up to the last record, and nothing else", () => {
    expect(words()).toContain(
      "3 feeds, 210 g offered, between 120 and 200 g (refusals not written) eaten.",
    );
    expect(words()).toContain("Mass 2040 g on 11 May 2025.");
    expect(words()).toContain("in the shift");
    expect(words()).not.toContain("before the shift");
    expect(words()).toContain("37.4");
  });

  it("sets it against the plan: 8 x 50 g a day", () => {
    expect(words()).toContain("Planned 400 g a day; eaten 30 to 50 % of it.");
  });

  it("says so when nothing was written", () => {
    const animal = analysis.animals[0]!;
    const later = sectionText(handOverSection(analysis, animal, Date.UTC(2025, 4, 20)));
    for (const sentence of [
      "No feed was written down in these 24 hours.",
      "(not within these 24 hours)",
      "Nothing was written about urine, stool or vomit.",
      "No temperature was taken.",
    ]) {
      expect(later).toContain(sentence);
    }
  });
});
