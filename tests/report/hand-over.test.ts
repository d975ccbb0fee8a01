import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { changeOfShift } from "../../src/analysis/change-of-shift.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { planShift, type ShiftPlan } from "../../src/planning/plan-shift.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { handOverSection } from "../../src/report/day/hand-over.js";
import { sheetPage } from "../../src/report/renderers/page/sheet-page.js";
import { sectionText } from "../../src/report/section/plain-text.js";

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
    "P1,2025-05-11 12:30,urine,seen,,\n" +
    "P1,2025-05-11 13:00,temperature,37.8,degC,\n",
};

let analysis: StudyAnalysis;
let shift: ShiftPlan;
beforeAll(async () => {
  analysis = await analysed(files);
  shift = shiftOf(analysis);
});

async function analysed(study: Readonly<Record<string, string>>): Promise<StudyAnalysis> {
  const inputs = Object.entries(study).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  return (await analyse(parseStudy(inputs), { onDay: "2025-05-11", curves: [] })).value;
}

function shiftOf(of: StudyAnalysis): ShiftPlan {
  return planShift(of.series, { until: changeOfShift(of)! });
}

/** The last 24 hours in full of every animal in care. */
const sectionsOf = (of: StudyAnalysis) => {
  const { until, animals } = shiftOf(of);
  return of.animals
    .filter((a) => a.inCare)
    .map((a) =>
      handOverSection(of, a, until, animals.find((p) => p.animalId === a.animalId) ?? null),
    );
};

describe("the hand-over of one animal", () => {
  const words = () =>
    sectionsOf(analysis)
      .map((each) => sectionText(each))
      .join("\n");

  it("counts what lies in the 24 hours up to the last record, and nothing else", () => {
    expect(words()).toContain(
      "3 feeds, 210 g offered, between 120 and 200 g (refusals not written) eaten.",
    );
    expect(words()).toContain("Mass 2040 g on 11 May 2025.");
    expect(words()).toContain("in the shift");
    expect(words()).not.toContain("before the shift");
    expect(words()).toContain("37.8");
  });

  it("sets it against the plan: 8 x 50 g a day", () => {
    expect(words()).toContain("Ordered 400 g a day; eaten 30 to 50 % of it.");
  });

  it("says so when nothing was written", () => {
    const animal = analysis.animals[0]!;
    const later = sectionText(handOverSection(analysis, animal, Date.UTC(2025, 4, 20), null));
    for (const sentence of [
      "No feed was written down in these 24 hours.",
      "(not within these 24 hours)",
      "Nothing was written about urine, stool or vomit.",
      "No temperature was taken.",
    ]) {
      expect(later).toContain(sentence);
    }
  });

  it("compares as energy where another diet was fed than planned", async () => {
    // 24 h: 60 - 10 + 70 g formula of 1.2 kcal/g, 80 g clam of 0.75 kcal/g refused 0:
    // 144 + 60 = 204 kcal; planned 400 g x 1.2 = 480 kcal; 204 / 480 = 42.5 %.
    const other = await analysed({
      ...files,
      "diets.csv": `${files["diets.csv"]}clam,Clam,solid,0.75\n`,
      "feeds.csv": files["feeds.csv"].replace("20:00,milk,80,,bottle", "20:00,clam,80,0,hand"),
    });
    const said = sectionText(sectionsOf(other)[0]!);
    expect(said).toContain("Ordered 480 kcal a day; eaten 42.5 % of it.");
    expect(said).toContain("ordered and eaten are compared as energy");
  });

  it("prints the order as ordered, and makes up no time for it", () => {
    expect(shift.animals[0]!.due).toEqual([]);
    expect(words()).toContain("milk: 50 g a feed, 8 feeds a day. Since 5 May 2025 06:00.");
    expect(words()).toContain("Times are not ordered: write each time when you feed.");
  });

  it("shows the feeds of the coming 24 hours whose times are ordered, and none that is past", async () => {
    // From 20:00 on: 21:00 today, 06:00 and 15:00 tomorrow.
    const timed = await analysed({
      ...files,
      "plans.csv":
        "animal_id,from,to,diet_id,g_per_feed,feed_times\nP1,2025-05-05 06:00,,milk,50,06:00 15:00 21:00\n",
    });
    const due = shiftOf(timed).animals[0]!.due;
    expect(due.map((f) => [f.time, f.amount])).toEqual([
      ["21:00", "50 g"],
      ["06:00", "50 g"],
      ["15:00", "50 g"],
    ]);
    expect(sectionText(sectionsOf(timed)[0]!)).toContain("Next feeds at ordered times");
  });
});

describe("the feeding sheet to print", () => {
  const page = (plan: ShiftPlan | null) =>
    sheetPage({ title: "Sheet", shift: plan, zone: "America/Vancouver", foot: "Foot" }).replaceAll(
      "\u00a0",
      " ",
    );
  const rowsOf = (html: string) => html.match(/<tbody>.*?<\/tbody>/s)![0].match(/<tr>/g)!.length;

  it("carries each ordered feed as ordered, a box, room to write, and lines to sign", () => {
    const html = page(shift);
    expect(shift.sheet.animals[0]!.rows.map((r) => [r.time, r.amount])).toEqual(
      new Array(8).fill([null, "50 g"]),
    );
    expect(html.match(/<td class="number">50 g<\/td>/g)).toHaveLength(8);
    // Two empty rows for feeds between the ordered ones.
    expect(rowsOf(html)).toBe(10);
    expect(html.match(/aria-label="box to tick"/g)).toHaveLength(10);
    for (const words of ["Offered g", "Refused g", "Initials", "Attending veterinarian"]) {
      expect(html).toContain(words);
    }
    expect(html).toContain("as they were ordered; nothing was computed");
    // Kitchen: all feeds together.
    expect(html).toContain("400 g</td>");
  });

  it("makes up no amount where nobody ordered one", async () => {
    const { "plans.csv": _, ...without } = files;
    const unplanned = shiftOf(await analysed(without));
    expect(unplanned.animals[0]).toMatchObject({ order: { state: "no order" }, due: [] });
    const html = page(unplanned);
    expect(html).toContain("No order in the file: ask now.");
    expect(html).toContain("Fed in the last 24 hours: 3 feeds, 210 g offered.");
    expect(html).not.toMatch(/\d g</);
    expect(html).not.toContain("Kitchen");
  });

  it("prints the order of an animal on hold as ordered, with whom to ask above it", async () => {
    // Vomit twice within 6 h forbids the next feed. DESIGN: orders at every level.
    const held = shiftOf(
      await analysed({
        ...files,
        "observations.csv": `${files["observations.csv"]}P1,2025-05-11 19:00,vomit,,,\nP1,2025-05-11 19:30,vomit,,,\n`,
      }),
    );
    expect(held.animals[0]!.hold.length).toBeGreaterThan(0);
    const html = page(held);
    expect(html).toContain("DO NOT FEED until the veterinarian has spoken");
    expect(html.match(/<td class="number">50 g<\/td>/g)).toHaveLength(8);
  });

  it("says so when nobody is in care", () => {
    expect(page(null)).toContain("No animal is in care");
  });
});
