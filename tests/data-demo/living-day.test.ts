import { beforeAll, describe, expect, it } from "vitest";
import { animalOf } from "../../src/analysis/animal-of.js";
import { askDay, type DayAnswer } from "../../src/analysis/ask-day.js";
import { explainSlowGain } from "../../src/analysis/explain-slow-gain.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import { leftLead } from "../../src/report/animal/left-lead.js";
import { type DayBoard, dayBoard } from "../../src/report/day/day-board.js";
import { scaleChecksTable } from "../../src/report/records/scale-checks-table.js";
import { demoFolder, demoRows, demoTruth } from "./demo-files.js";

/**
 * The demo's last day as its pages show it, against what was planted there
 * (`truth.json`): each plant is found, and no healthy animal stands under danger.
 */
const { livingDay: planted, slowGainers } = demoTruth();
let study: Study;
let day: DayAnswer;
let analysis: StudyAnalysis;
let board: DayBoard;

beforeAll(async () => {
  study = await readStudy(demoFolder);
  day = (await askDay(study, { curves: [] })).value;
  analysis = day.analysis.value;
  board = dayBoard(day);
});

const rowOf = (id: string) => board.rows.find((r) => r.animalId === id)!;
const standing = (level: string) =>
  board.rows.filter((r) => r.level === level).map((r) => r.animalId);

describe("the day's page", () => {
  it("is about the planted day and has a line for each animal in care", () => {
    expect(analysis.onDay).toBe(planted.day);
    expect(board.rows.map((r) => r.animalId).sort()).toEqual([...planted.inCare].sort());
    expect(planted.recordsEnd > planted.day).toBe(true);
  });

  it("has the planted animals under danger, second look and measure first, and nobody else", () => {
    expect(standing("danger")).toEqual(planted.danger);
    expect(standing("second look").sort()).toEqual([...planted.secondLook].sort());
    expect(standing("measure first")).toEqual(planted.measureFirst);
    const calm = [...standing("nothing raised"), ...standing("not judged")];
    expect(calm).toHaveLength(
      planted.inCare.length - planted.danger.length - planted.secondLook.length - 1,
    );
    expect(calm).toContain(planted.newcomer[0]);
  });

  it("says why: vomit with the standing instruction, soft stools, a slowed gain, a mass in doubt", () => {
    const words = (id: string) => rowOf(id).why.join(" ");
    expect(words(planted.danger[0]!)).toMatch(/vomit/i);
    expect(words(planted.danger[0]!)).toContain("until we have spoken");
    expect(words("S25-03")).toMatch(/stool/i);
    expect(words("O25-04")).toMatch(/gain/i);
    expect(rowOf(planted.measureFirst[0]!).mass.value).toMatch(/doubt/i);
  });

  it("marks the orders begun in the last 24 h, and no other", () => {
    const isNew = day.shift!.animals.filter((a) => JSON.stringify(a).includes('"order-new"'));
    expect(isNew.map((a) => a.animalId).sort()).toEqual([...planted.orderBegun].sort());
  });
});

describe("other pages of that day", () => {
  it("the slow gainer's page names the planted cause first", () => {
    const [slow] = planted.secondLook.filter((id) => slowGainers.some((s) => s.animal === id));
    const animal = animalOf(analysis, slow!);
    const explained = explainSlowGain(analysis, animal, study.tables.housing);
    const { slow: verdict, rivals, from } = explained.explanations.value;
    expect(verdict).toBe("slow");
    expect(rivals[0]).toMatchObject({ rival: "fed less than ordered", verdict: "likely" });
    expect(rivals.filter((r) => r.verdict === "likely")).toHaveLength(1);
    const began = slowGainers.find((s) => s.animal === slow)!.from;
    expect(Math.abs(Date.parse(from) - Date.parse(began)) / 86_400_000).toBeLessThanOrEqual(4);
  });

  it("scales show a check that passed, and one without any check of late", () => {
    const last = (id: string, scale: string) =>
      scaleChecksTable(analysis, animalOf(analysis, id)).rows.find((r) => r[0] === scale)!;
    for (const scale of planted.scales.passed.slice(0, 1)) {
      expect(Number(last("O25-04", scale)[2])).toBeGreaterThan(0);
      expect(Math.abs(Number(last("O25-04", scale)[4]))).toBeLessThan(20);
    }
    for (const scale of planted.scales.old) expect(last("S25-01", scale)[2]).toBe(0);
  });

  it("an animal that died or was released begins with outcome, day and reason", () => {
    for (const row of demoRows("animals").filter((a) => a["season"] === "2025")) {
      if (row["outcome"] === "in care") continue;
      const { lead } = leftLead(analysis, animalOf(analysis, row["animal_id"]!));
      expect(lead.headline).toContain(row["name"]);
      expect(lead.headline).toContain(row["outcome"]!.split(" ")[0]);
      expect(lead.under).toContain(row["outcome_reason"]!);
    }
  });
});
