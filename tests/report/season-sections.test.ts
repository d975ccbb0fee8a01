import { describe, expect, it } from "vitest";
import { seasonResults } from "../../src/analysis/season-results.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { reportTables } from "../../src/report/husbandry/study-report.js";
import { dayReached } from "../../src/report/seasons/milestone-seasons-table.js";
import {
  groupTables,
  milestonesSection,
  phaseTable,
  seasonDetails,
  seasonsSection,
} from "../../src/report/seasons/season-sections.js";
import { isMeasured } from "../../src/report/section/section.js";
import type { MilestoneDescription } from "../../src/seasons/milestone-description.js";
import { simulateStudy } from "../seasons/simulated-seasons.js";

/** Simulated seasons without feeds and observations, seed written down before the first run. */
const study = simulateStudy(
  { animals: 5, seasons: 3, animalSd: 9, seasonSd: 3, difference: 0 },
  20261125,
);
const analysis = {
  series: study,
  animals: study.animals.map((a) => ({ species: a.animal.species, season: a.animal.season })),
} as unknown as StudyAnalysis;
const seasons = seasonResults(analysis, { window: { fromAgeD: 21, toAgeD: 63 }, seed: 1 });

describe("the sections about seasons", () => {
  it("compare every pair, with the mixed model beside and the interaction shown", () => {
    const tables = reportTables([seasonDetails(seasons)]);
    const named = (name: string) => tables.find((each) => each.name === name)!;
    expect(named("seasons-compared").rows).toHaveLength(3);
    expect(named("season-pairs").rows).toHaveLength(3);
    const checks = named("season-checks");
    const mixed = checks.columns.findIndex((c) => c.title === "Mixed model");
    // One value a cell: the estimate with its ends, its degrees of freedom beside it.
    for (const row of checks.rows) {
      expect(row[mixed]).toMatchObject({ unit: "g/d", interval: { level: 0.95 } });
      expect(row[mixed + 1]).toBeGreaterThan(0);
    }
    expect(named("season-slopes").rows).toHaveLength(3);
    expect(named("season-curve-differences").rows.length).toBeGreaterThan(0);
  });

  it("never show a mean without its n", () => {
    for (const each of [...groupTables(seasons), phaseTable(seasons)]) {
      expect(each.rows.length).toBeGreaterThan(0);
      for (const cell of each.rows.flat()) {
        if (isMeasured(cell) && cell.sd !== undefined) expect(cell.n).toBeGreaterThanOrEqual(0);
      }
    }
  });

  it("say so where no milestone is recorded", () => {
    const [only] = milestonesSection(seasons).sections!;
    expect(only!.blocks).toHaveLength(1);
    expect(JSON.stringify(only)).toContain("No milestone of the");
  });

  it("do not compare one season", () => {
    expect(seasonsSection({ ...seasons, compared: [], changes: [] }, analysis).blocks).toHaveLength(
      1,
    );
  });
});

describe("the day by which a share had reached a milestone", () => {
  // Half of the mass between days 10 and 14, a quarter between 20 and 22, the rest never seen.
  const milestone = {
    turnbull: {
      steps: [
        { from: 10, to: 14, mass: 0.5 },
        { from: 20, to: 22, mass: 0.25 },
        { from: 30, to: null, mass: 0.25 },
      ],
    },
  } as unknown as MilestoneDescription;

  it("is the middle of what the looks leave open, and null where so many were never seen", () => {
    expect(dayReached(milestone, 0.25)).toBe(12);
    expect(dayReached(milestone, 0.5)).toBe(12);
    expect(dayReached(milestone, 0.75)).toBe(21);
    expect(dayReached(milestone, 0.9)).toBeNull();
  });
});
